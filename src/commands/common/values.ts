import { z } from 'zod';
import { KindRefusal } from '../../runtime/errors.js';

/**
 * Reads a button's value or a form's private_metadata. Old messages stay tappable for years and clients can
 * be forged, so whatever does not fit is refused kindly.
 */
export function readValue<T extends z.ZodType>(schema: T, json: string): z.output<T> {
  const parsed = schema.safeParse(parseJson(json));
  if (parsed.success) return parsed.data;
  throw new KindRefusal(
    'not understood',
    'That button or form is from an older message.',
    'Type `/spoon` to see what is next.',
  );
}

function parseJson(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return null;
  }
}

/** Splits words on spaces, keeping "quoted names" whole; curly quotes count as quotes. */
export function splitWords(words: string): readonly string[] {
  const straight = words.replace(/[\u201c\u201d\u201e\u00ab\u00bb]/g, '"').replace(/\u00a0/g, ' ');
  return [...straight.matchAll(/"([^"]*)"|(\S+)/g)].map((match) => match[1] ?? match[2] ?? '');
}

/** Ids in button values. */
export const Id = z.number().int().positive();
