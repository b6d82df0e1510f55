import type { JsonObject, Picked } from '../api-types.js';
import { objectIn, objectsIn, textIn } from '../block-kit/walk.js';

/** How each kind of element says what was picked, in state values and in actions. */
type Form = {
  readonly read: (element: JsonObject) => Picked;
  readonly write: (element: JsonObject, picked: Picked) => JsonObject;
};

function one(initial: string, key: string): Form {
  return {
    read: (element) => textIn(element[initial]) ?? null,
    write: (_element, picked) => ({ [key]: typeof picked === 'string' ? picked : null }),
  };
}

function several(initial: string, key: string): Form {
  return {
    read: (element) => {
      const ids = element[initial];
      return Array.isArray(ids) ? ids.map(String) : [];
    },
    write: (_element, picked) => ({ [key]: listOf(picked) }),
  };
}

const oneOption: Form = {
  read: (element) => textIn(objectIn(element['initial_option'])?.['value']) ?? null,
  write: (element, picked) => ({
    selected_option: typeof picked === 'string' ? optionOf(element, picked) : null,
  }),
};

const severalOptions: Form = {
  read: (element) => objectsIn(element['initial_options']).flatMap((option) => textIn(option['value']) ?? []),
  write: (element, picked) => ({ selected_options: listOf(picked).map((value) => optionOf(element, value)) }),
};

const instant: Form = {
  read: (element) =>
    typeof element['initial_date_time'] === 'number' ? String(element['initial_date_time']) : null,
  write: (_element, picked) => ({ selected_date_time: typeof picked === 'string' ? Number(picked) : null }),
};

const richText: Form = {
  read: () => null,
  write: (_element, picked) => ({
    rich_text_value:
      typeof picked === 'string'
        ? {
            type: 'rich_text',
            elements: [{ type: 'rich_text_section', elements: [{ type: 'text', text: picked }] }],
          }
        : null,
  }),
};

const text = one('initial_value', 'value');

const forms = new Map<string, Form>([
  ['plain_text_input', text],
  ['email_text_input', text],
  ['url_text_input', text],
  ['number_input', text],
  ['rich_text_input', richText],
  ['datepicker', one('initial_date', 'selected_date')],
  ['timepicker', one('initial_time', 'selected_time')],
  ['datetimepicker', instant],
  ['users_select', one('initial_user', 'selected_user')],
  ['conversations_select', one('initial_conversation', 'selected_conversation')],
  ['channels_select', one('initial_channel', 'selected_channel')],
  ['multi_users_select', several('initial_users', 'selected_users')],
  ['multi_conversations_select', several('initial_conversations', 'selected_conversations')],
  ['multi_channels_select', several('initial_channels', 'selected_channels')],
  ['static_select', oneOption],
  ['external_select', oneOption],
  ['radio_buttons', oneOption],
  ['multi_static_select', severalOptions],
  ['multi_external_select', severalOptions],
  ['checkboxes', severalOptions],
  ['file_input', several('initial_files', 'files')],
]);

/** Whether an element holds a value (a button does not). */
export function holdsValue(element: JsonObject): boolean {
  return forms.has(String(element['type']));
}

/** What an element begins with. */
export function initialPicked(element: JsonObject): Picked {
  return forms.get(String(element['type']))?.read(element) ?? null;
}

/** An element's value as Slack writes it in `state.values`. */
export function stateValue(element: JsonObject, picked: Picked): JsonObject {
  const type = String(element['type']);
  return { type, ...forms.get(type)?.write(element, picked) };
}

/** The options of an element, groups included. */
export function optionsOf(element: JsonObject): readonly JsonObject[] {
  const grouped = objectsIn(element['option_groups']).flatMap((group) => objectsIn(group['options']));
  return [...objectsIn(element['options']), ...grouped];
}

function optionOf(element: JsonObject, value: string): JsonObject {
  const known = optionsOf(element).find((option) => option['value'] === value);
  return known ?? { text: { type: 'plain_text', text: value, emoji: true }, value };
}

function listOf(picked: Picked): string[] {
  if (picked === null) return [];
  return typeof picked === 'string' ? [picked] : picked;
}
