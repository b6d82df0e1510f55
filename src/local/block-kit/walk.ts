/** Walks over blocks as plain JSON: the elements in them, their ids, and the texts that people read. */
import { JsonObject } from '../api-types.js';
import { objectIn, objectsIn, textIn } from '../json.js';
import { newId } from '../random.js';
import { type Problem, pointerOf } from './problems.js';

/** The interactive elements of one block, in the order they are shown. */
export function elementsOf(block: JsonObject): readonly JsonObject[] {
  if (block['type'] === 'actions') return objectsIn(block['elements']);
  return [block['element'], block['accessory']]
    .map(objectIn)
    .filter((element) => element !== undefined)
    .filter((element) => element['type'] !== 'image');
}

/** Ids used twice, in the words and places Slack refuses them. */
export function repeatedIds(
  error: string,
  blocks: readonly JsonObject[],
  base: readonly PropertyKey[],
): Problem[] {
  const seen = new Set<string>();
  return blocks.flatMap((block, index) => {
    const problems: Problem[] = [];
    const blockId = textIn(block['block_id']);
    if (blockId !== undefined && seen.has(blockId)) {
      problems.push({
        error,
        pointer: pointerOf([...base, index, 'block_id']),
        message: `block_id "${blockId}" already exists`,
      });
    }
    if (blockId !== undefined) seen.add(blockId);
    const actionIds = new Set<string>();
    for (const element of elementsOf(block)) {
      const actionId = textIn(element['action_id']);
      if (actionId === undefined) continue;
      if (actionIds.has(actionId)) {
        problems.push({
          error,
          pointer: pointerOf([...base, index]),
          message: `action_id "${actionId}" already exists for block_id "${blockId ?? ''}"`,
        });
      }
      actionIds.add(actionId);
    }
    return problems;
  });
}

/** Characters in every `text` of a payload, which is what Slack's limit on a message's blocks counts. */
export function textLength(value: unknown): number {
  if (Array.isArray(value)) return value.reduce((sum: number, one) => sum + textLength(one), 0);
  if (typeof value !== 'object' || value === null) return 0;
  return Object.entries(value).reduce(
    (sum, [key, one]) => sum + (key === 'text' && typeof one === 'string' ? one.length : textLength(one)),
    0,
  );
}

/** Blocks as Slack keeps and returns them: ids it made up, and the defaults of text objects, filled in. */
export function completedBlocks(blocks: readonly JsonObject[]): JsonObject[] {
  return blocks.map((block) => {
    const completed = JsonObject.parse(withDefaults(block));
    return completed['block_id'] === undefined ? { ...completed, block_id: newShortId() } : completed;
  });
}

const ELEMENT_TYPES =
  /^(button|checkboxes|radio_buttons|datepicker|timepicker|plain_text_input|(multi_)?(static|users|channels)_select)$/;

function withDefaults(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withDefaults);
  if (typeof value !== 'object' || value === null) return value;
  const filled = Object.fromEntries(Object.entries(value).map(([key, one]) => [key, withDefaults(one)]));
  const type = String(filled['type']);
  if (type === 'plain_text') return { emoji: true, ...filled };
  if (type === 'mrkdwn') return { verbatim: false, ...filled };
  if (ELEMENT_TYPES.test(type) && filled['action_id'] === undefined)
    return { ...filled, action_id: newShortId() };
  return filled;
}

function newShortId(): string {
  return newId('').slice(0, 5);
}
