import { z } from 'zod';
import type { NoteContext } from '../domain/notes/cup-reference.js';

/** A note to read, with the place it was written in. */
export type NoteInput = { readonly text: string; readonly context: NoteContext };

/** A line that is JSON but no note, and why. */
export type InputProblem = { readonly line: number; readonly problem: string };

/** The place a note was written in, as a line of JSON gives it. */
export const contextSchema = z.object({
  cups: z
    .array(
      z.object({
        label: z.string().min(1),
        code: z.string().exactOptional(),
        name: z.string().exactOptional(),
        kind: z.enum(['component', 'blend', 'ratio', 'pour']).exactOptional(),
      }),
    )
    .default([]),
  homeCup: z.string().nullish(),
  blind: z.boolean().default(false),
});

const noteSchema = contextSchema.extend({ text: z.string() });

const lineSchema = z.union([noteSchema, z.string()]);

/**
 * The notes of a file: JSON lines (`{"text", "cups"?, "homeCup"?, "blind"?}`), or JSON strings when every
 * line is JSON, or plain text, one note a line. A line in braces that is no note is a problem; the others
 * are still given.
 */
export function parseNotes(file: string): {
  notes: readonly NoteInput[];
  problems: readonly InputProblem[];
} {
  const lines = file.replace(/\r?\n$/, '').split(/\r?\n/);
  const parsed = lines.map(parseJson);
  const allJson = parsed.every((value) => value !== undefined);
  const notes: NoteInput[] = [];
  const problems: InputProblem[] = [];
  for (const [i, line] of lines.entries()) {
    const value = parsed[i];
    if (value === undefined || (typeof value === 'string' && !allJson) || !/^\s*["{]/.test(line)) {
      notes.push(toInput({ text: line, cups: [], blind: false }));
      continue;
    }
    const result = lineSchema.safeParse(value);
    if (!result.success) problems.push({ line: i + 1, problem: z.prettifyError(result.error) });
    else if (typeof result.data === 'string')
      notes.push(toInput({ text: result.data, cups: [], blind: false }));
    else notes.push(toInput(result.data));
  }
  return { notes, problems };
}

function toInput({ text, cups, homeCup, blind }: z.output<typeof noteSchema>): NoteInput {
  return { text, context: { cups, homeCup: homeCup ?? null, blind } };
}

/** The value of a line of JSON, undefined for any other line. */
function parseJson(line: string): unknown {
  try {
    const value: unknown = JSON.parse(line);
    return value;
  } catch {
    return undefined;
  }
}
