import { parseArgs } from 'node:util';
import { readNote } from '../domain/notes/read-note.js';
import { SHIPPED_VOCABULARY } from '../domain/notes/vocabulary.js';
import { parseNotes } from './notes-input.js';
import { parseLabelled } from './notes-labelled.js';
import { readingLine } from './notes-output.js';
import { scoreReadings } from './notes-score.js';
import { scoreText } from './notes-score-text.js';
import { unknownReport } from './notes-unknown.js';

const USAGE = `Reads tasters' notes.
  npm run notes -- FILE            one JSON reading a line; - reads standard input
  npm run notes -- --score FILE    scores the reader against a labelled file (--json: the numbers alone)
  npm run notes -- --unknown FILE  words the vocabulary does not know, most frequent first
FILE holds notes as text, one a line, or as JSON lines with "text" and, if wanted, "cups", "homeCup", "blind".
`;

/** What the command line does outside itself: reads a file, prints results, warns. */
export type NotesOutside = {
  readonly read: (file: string) => string;
  readonly print: (text: string) => void;
  readonly warn: (text: string) => void;
};

/** Runs the command line and returns its exit code. Results go to `print`, everything else to `warn`. */
export function runNotes(args: readonly string[], outside: NotesOutside): number {
  try {
    return run(args, outside);
  } catch (error) {
    outside.warn(`${error instanceof Error ? error.message : String(error)}\n`);
    return 2;
  }
}

function run(args: readonly string[], { read, print, warn }: NotesOutside): number {
  const { values, positionals } = parseArgs({
    args: [...args],
    options: {
      score: { type: 'string' },
      unknown: { type: 'string' },
      json: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
    allowPositionals: true,
  });
  const file = values.score ?? values.unknown ?? positionals[0];
  if (file === undefined || values.help) {
    warn(USAGE);
    return values.help ? 0 : 2;
  }
  const text = read(file);
  if (values.score !== undefined) {
    print(scoreFile(text, values.json));
    return 0;
  }
  const { notes, problems } = parseNotes(text);
  for (const { line, problem } of problems) warn(`Line ${line} is JSON but no note: ${problem}\n`);
  if (values.unknown !== undefined)
    print(
      unknownReport(
        notes.map((note) => note.text),
        SHIPPED_VOCABULARY,
      ),
    );
  else
    for (const note of notes)
      print(`${readingLine(readNote(note.text, note.context, SHIPPED_VOCABULARY))}\n`);
  return 0;
}

function scoreFile(text: string, json: boolean): string {
  const labelled = parseLabelled(text);
  const readings = labelled.map((note) => readNote(note.text, note.context, SHIPPED_VOCABULARY));
  const score = scoreReadings(labelled, readings, SHIPPED_VOCABULARY);
  return json ? `${JSON.stringify(score)}\n` : scoreText(score);
}
