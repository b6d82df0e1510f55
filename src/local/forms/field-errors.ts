import { z } from 'zod';
import type { FormValues, JsonObject, Picked } from '../api-types.js';
import { type Field, fieldsOf, listOf, optionsOf, pickedIn } from './fields.js';

/** What Slack's own form says before it sends anything: text by block id, empty when all is well. */
export function fieldErrors(blocks: readonly JsonObject[], typed: FormValues): Record<string, string> {
  const errors: Record<string, string> = {};
  for (const field of fieldsOf(blocks)) {
    const wrong = wrongIn(field, pickedIn(field, typed));
    if (wrong !== undefined) errors[field.blockId] = wrong;
  }
  return errors;
}

function wrongIn({ block, element }: Field, picked: Picked): string | undefined {
  if (picked === null || picked.length === 0) {
    const required = block['type'] === 'input' && block['optional'] !== true;
    return required ? 'Please complete this required field.' : undefined;
  }
  return (
    unknownOption(element, picked) ??
    (typeof picked === 'string' ? wrongText(element, picked) : tooMany(element, picked))
  );
}

function unknownOption(element: JsonObject, picked: Picked): string | undefined {
  const values = new Set(optionsOf(element).map((option) => option['value']));
  const isKnown = values.size === 0 || listOf(picked).every((value) => values.has(value));
  return isKnown ? undefined : 'Please pick one of the options.';
}

function tooMany(element: JsonObject, picked: readonly string[]): string | undefined {
  const most = element['max_selected_items'];
  return typeof most === 'number' && picked.length > most ? `Please pick no more than ${most}.` : undefined;
}

function wrongText(element: JsonObject, text: string): string | undefined {
  switch (element['type']) {
    case 'plain_text_input':
      return wrongLength(element, text);
    case 'datepicker':
      return z.iso.date().safeParse(text).success ? undefined : 'Please pick a date.';
    case 'timepicker':
      return /^([01]\d|2[0-3]):[0-5]\d$/.test(text) ? undefined : 'Please pick a time.';
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
