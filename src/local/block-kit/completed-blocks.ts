import { JsonObject } from '../api-types.js';
import { newId } from '../random.js';

const ELEMENT_TYPES =
  /^(button|overflow|checkboxes|radio_buttons|datepicker|timepicker|datetimepicker|icon_button|feedback_buttons|(multi_)?(static|external|users|conversations|channels)_select|\w+_input)$/;

/** Blocks as Slack keeps and returns them: ids it made up, and the defaults of text objects, filled in. */
export function completedBlocks(blocks: readonly JsonObject[]): JsonObject[] {
  return blocks.map((block) => {
    const completed = JsonObject.parse(withDefaults(block));
    return completed['block_id'] === undefined
      ? { ...completed, block_id: newId('').slice(0, 5) }
      : completed;
  });
}

function withDefaults(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withDefaults);
  if (typeof value !== 'object' || value === null) return value;
  const filled = Object.fromEntries(Object.entries(value).map(([key, one]) => [key, withDefaults(one)]));
  const type = String(filled['type']);
  if (type === 'plain_text') return { emoji: true, ...filled };
  if (type === 'mrkdwn') return { verbatim: false, ...filled };
  if (ELEMENT_TYPES.test(type) && filled['action_id'] === undefined)
    return { ...filled, action_id: newId('').slice(0, 5) };
  return filled;
}
