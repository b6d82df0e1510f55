import { z } from 'zod';
import type { NoteContext } from '../domain/notes/cup-reference.js';
import { contextSchema } from './notes-input.js';

const labelSchema = z.object({
  cup: z.string().nullish(),
  attribute: z.string(),
  polarity: z.enum(['present', 'denied', 'compared']),
  degree: z.enum(['slight', 'plain', 'strong']).optional(),
  doubt: z.boolean().optional(),
});

const lineSchema = contextSchema.extend({ text: z.string(), mentions: z.array(labelSchema) });

/** A note with what a careful reader says it claims, and the place it was written in. */
export type LabelledNote = {
  readonly text: string;
  readonly context: NoteContext;
  readonly mentions: readonly z.output<typeof labelSchema>[];
};

/** The labelled notes of a file of JSON lines. Throws an Error that names the line when one is none. */
export function parseLabelled(file: string): readonly LabelledNote[] {
  const lines = file.split(/\r?\n/).filter((line) => line.trim() !== '');
  return lines.map((line, i) => {
    const parsed = lineSchema.safeParse(parseJson(line));
    if (!parsed.success)
      throw new Error(`Line ${i + 1} is no labelled note: ${z.prettifyError(parsed.error)}`);
    const { text, mentions, cups, homeCup, blind } = parsed.data;
    return { text, mentions, context: { cups, homeCup: homeCup ?? null, blind } };
  });
}

function parseJson(line: string): unknown {
  try {
    const value: unknown = JSON.parse(line);
    return value;
  } catch {
    return undefined;
  }
}
