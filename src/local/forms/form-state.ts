import type { FormValues, JsonObject, Picked } from '../api-types.js';
import { elementsOf, textIn } from '../block-kit/walk.js';
import { holdsValue, initialPicked, stateValue } from './picked-values.js';

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
export function pickedIn(field: Field, typed: FormValues): Picked {
  const value = typed[field.blockId]?.[field.actionId];
  return value === undefined ? initialPicked(field.element) : value;
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
