import { z } from 'zod';
import type { FormValues, JsonObject, Picked } from '../api-types.js';
import { type Field, fieldsOf, pickedIn } from './form-state.js';
import { optionsOf } from './picked-values.js';

/** What Slack's own form says before it sends anything: text by block id, empty when all is well. */
export function fieldErrors(blocks: readonly JsonObject[], typed: FormValues): Record<string, string> {
  const errors: Record<string, string> = {};
  for (const field of fieldsOf(blocks)) {
    const wrong = wrongIn(field, pickedIn(field, typed));
    if (wrong !== undefined) errors[field.blockId] = wrong;
  }
  return errors;
}

function wrongIn(field: Field, picked: Picked): string | undefined {
  const empty = picked === null || picked.length === 0;
  if (empty) {
    const required = field.block['type'] === 'input' && field.block['optional'] !== true;
    return required ? 'Please complete this required field.' : undefined;
  }
  return (
    unknownOption(field.element, picked) ??
    (typeof picked === 'string' ? wrongText(field.element, picked) : tooMany(field.element, picked))
  );
}

function unknownOption(element: JsonObject, picked: string | string[]): string | undefined {
  if (
    !['static_select', 'multi_static_select', 'radio_buttons', 'checkboxes'].includes(String(element['type']))
  ) {
    return undefined;
  }
  const values = new Set(optionsOf(element).map((option) => option['value']));
  const chosen = typeof picked === 'string' ? [picked] : picked;
  return chosen.every((value) => values.has(value)) ? undefined : 'Please pick one of the options.';
}

function tooMany(element: JsonObject, picked: readonly string[]): string | undefined {
  const most = element['max_selected_items'];
  return typeof most === 'number' && picked.length > most ? `Please pick no more than ${most}.` : undefined;
}

function wrongText(element: JsonObject, text: string): string | undefined {
  switch (element['type']) {
    case 'plain_text_input':
      return wrongLength(element, text);
    case 'number_input':
      return wrongNumber(element, text);
    case 'email_text_input':
      return z.email().safeParse(text).success ? undefined : 'Please enter a valid email address.';
    case 'url_text_input':
      return z.url().safeParse(text).success ? undefined : 'Please enter a valid URL.';
    case 'datepicker':
      return z.iso.date().safeParse(text).success ? undefined : 'Please pick a date.';
    case 'timepicker':
      return /^([01]\d|2[0-3]):[0-5]\d$/.test(text) ? undefined : 'Please pick a time.';
    case 'datetimepicker':
      return /^\d{10}$/.test(text) ? undefined : 'Please pick a date and time.';
    default:
      return undefined;
  }
}

function wrongLength(element: JsonObject, text: string): string | undefined {
  const least = Number(element['min_length'] ?? 0);
  const most = Number(element['max_length'] ?? 3_000);
  if (text.length < least) return `Please enter at least ${least} characters.`;
  return text.length > most ? `Please enter at most ${most} characters.` : undefined;
}

function wrongNumber(element: JsonObject, text: string): string | undefined {
  const shape = element['is_decimal_allowed'] === true ? /^-?\d+(\.\d+)?$/ : /^-?\d+$/;
  if (!shape.test(text)) return 'Please enter a valid number.';
  const number = Number(text);
  if (number < Number(element['min_value'] ?? Number.NEGATIVE_INFINITY)) {
    return `Please enter a number of at least ${element['min_value']}.`;
  }
  return number > Number(element['max_value'] ?? Number.POSITIVE_INFINITY)
    ? `Please enter a number of at most ${element['max_value']}.`
    : undefined;
}
