/** The elements of a form or message that hold a value: what they begin with, what was typed, how Slack writes it. */
import type { FormValues, JsonObject, Picked } from '../api-types.js';
import { elementsOf } from '../block-kit/walk.js';
import { objectIn, objectsIn, textIn } from '../json.js';

/** How one kind of element says what was picked, in state values and in actions. */
type Kind = {
  readonly read: (element: JsonObject) => Picked;
  readonly write: (element: JsonObject, picked: Picked) => JsonObject;
};

function one(initial: string, key: string): Kind {
  return {
    read: (element) => textIn(element[initial]) ?? null,
    write: (_element, picked) => ({ [key]: typeof picked === 'string' ? picked : null }),
  };
}

const oneOption: Kind = {
  read: (element) => textIn(objectIn(element['initial_option'])?.['value']) ?? null,
  write: (element, picked) => ({
    selected_option: typeof picked === 'string' ? optionOf(element, picked) : null,
  }),
};

const severalOptions: Kind = {
  read: (element) => objectsIn(element['initial_options']).flatMap((option) => textIn(option['value']) ?? []),
  write: (element, picked) => ({ selected_options: listOf(picked).map((value) => optionOf(element, value)) }),
};

const severalUsers: Kind = {
  read: (element) => {
    const ids = element['initial_users'];
    return Array.isArray(ids) ? ids.map(String) : [];
  },
  write: (_element, picked) => ({ selected_users: listOf(picked) }),
};

const kinds = new Map<string, Kind>([
  ['plain_text_input', one('initial_value', 'value')],
  ['datepicker', one('initial_date', 'selected_date')],
  ['timepicker', one('initial_time', 'selected_time')],
  ['users_select', one('initial_user', 'selected_user')],
  ['channels_select', one('initial_channel', 'selected_channel')],
  ['multi_users_select', severalUsers],
  ['static_select', oneOption],
  ['radio_buttons', oneOption],
  ['multi_static_select', severalOptions],
  ['checkboxes', severalOptions],
]);

/** Whether an element holds a value (a button does not). */
export function holdsValue(element: JsonObject): boolean {
  return kinds.has(String(element['type']));
}

/** An element's value as Slack writes it in `state.values`. */
export function stateValue(element: JsonObject, picked: Picked): JsonObject {
  const type = String(element['type']);
  return { type, ...kinds.get(type)?.write(element, picked) };
}

/** The options of an element, groups included. */
export function optionsOf(element: JsonObject): readonly JsonObject[] {
  const grouped = objectsIn(element['option_groups']).flatMap((group) => objectsIn(group['options']));
  return [...objectsIn(element['options']), ...grouped];
}

/** The option of this value, which whoever picked it was checked to have. */
function optionOf(element: JsonObject, value: string): JsonObject {
  const known = optionsOf(element).find((option) => option['value'] === value);
  return known ?? { text: { type: 'plain_text', text: value, emoji: true }, value };
}

/** What was picked, as a list. */
export function listOf(picked: Picked): string[] {
  if (picked === null) return [];
  return typeof picked === 'string' ? [picked] : picked;
}

/** One element that holds a value, and where it stands. */
export type Field = {
  readonly block: JsonObject;
  readonly blockId: string;
  readonly actionId: string;
  readonly element: JsonObject;
};

/** The elements of these blocks that hold a value. */
export function fieldsOf(blocks: readonly JsonObject[]): readonly Field[] {
  return blocks.flatMap((block) =>
    elementsOf(block)
      .filter(holdsValue)
      .map((element) => ({
        block,
        blockId: textIn(block['block_id']) ?? '',
        actionId: textIn(element['action_id']) ?? '',
        element,
      })),
  );
}

/** What a field holds: what was typed, else what it began with. */
export function pickedIn({ blockId, actionId, element }: Field, typed: FormValues): Picked {
  const value = typed[blockId]?.[actionId];
  if (value !== undefined) return value;
  return kinds.get(String(element['type']))?.read(element) ?? null;
}

/** Slack's `state.values` for these blocks. */
export function stateValues(blocks: readonly JsonObject[], typed: FormValues): Record<string, JsonObject> {
  const values: Record<string, JsonObject> = {};
  for (const field of fieldsOf(blocks)) {
    values[field.blockId] = {
      ...values[field.blockId],
      [field.actionId]: stateValue(field.element, pickedIn(field, typed)),
    };
  }
  return values;
}

/** What was typed and still has its field: values outlive a change only under the same two ids. */
export function keptValues(blocks: readonly JsonObject[], typed: FormValues): FormValues {
  const kept: FormValues = {};
  for (const { blockId, actionId } of fieldsOf(blocks)) {
    const value = typed[blockId]?.[actionId];
    if (value !== undefined) kept[blockId] = { ...kept[blockId], [actionId]: value };
  }
  return kept;
}

/** Typed values with new ones on top. */
export function withValues(typed: FormValues, more: FormValues): FormValues {
  const merged: FormValues = { ...typed };
  for (const [blockId, values] of Object.entries(more)) merged[blockId] = { ...merged[blockId], ...values };
  return merged;
}
