import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseNotes } from '../../src/cli/notes-input.js';
import { readNote } from '../../src/domain/notes/read-note.js';
import { SHIPPED_VOCABULARY } from '../../src/domain/notes/vocabulary.js';

/** Beside the folder it is run from: `npm run bench` runs it from the project's. */
const FIXTURES = 'fixtures/notes/labelled.jsonl';
const ROUNDS = 9;
const WARM_ROUNDS = 8;
const LEAST_NOTES = 3000;
const ONE_CUP = { cups: [], homeCup: null, blind: false };
const FIVE_CUPS = { ...ONE_CUP, cups: ['A', 'B', 'C', 'D', 'E'].map((label) => ({ label })) };
const KILOBYTES = [125, 250, 500, 1000];

/** Notes read in a second of processor time, the median of several rounds over the same texts. */
export type NotesSpeed = { readonly notes: string; readonly notesPerSecond: number };

/** Processor time to read one hostile text, by its length in thousands of characters. */
export type HostileTiming = {
  readonly text: string;
  readonly msPerKilobytes: Readonly<Record<string, number>>;
};

function processorMs(work: () => void): number {
  const start = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}

function median(times: readonly number[]): number {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

/** The whole reading, of notes on one cup and of the same texts in the thread of a table. */
export function benchNotes(texts: readonly string[]): readonly NotesSpeed[] {
  const many = Array.from({ length: Math.ceil(LEAST_NOTES / texts.length) }, () => texts).flat();
  return Object.entries({ 'on one cup': ONE_CUP, 'at a table of five cups': FIVE_CUPS }).map(
    ([notes, context]) => {
      const readAll = (): void => {
        for (const text of many) readNote(text, context, SHIPPED_VOCABULARY);
      };
      for (let i = 0; i < WARM_ROUNDS; i += 1) readAll();
      const times = Array.from({ length: ROUNDS }, () => processorMs(readAll));
      return { notes, notesPerSecond: Math.round((many.length * 1000) / median(times)) };
    },
  );
}

const HOSTILE: readonly (readonly [string, string])[] = [
  ['notes without end', 'not sour, a hint of lemon and choclate, C: very bright? D > E. '],
  ['openings never closed', '<@'],
  ['questions', 'plum?'],
  ['denials', 'no '],
  ['orders', 'D>'],
  ['struck words', '~a '],
  ['unknown words', 'qxlemonadz '],
  ['scores', '1/'],
];

/** Time must grow with the length, not faster: each column is twice as long as the one before. */
export function benchHostile(): readonly HostileTiming[] {
  return HOSTILE.map(([text, unit]) => {
    const timings = KILOBYTES.map((kilobytes) => {
      const long = unit.repeat(Math.ceil((kilobytes * 1000) / unit.length));
      const start = process.cpuUsage();
      readNote(long, FIVE_CUPS, SHIPPED_VOCABULARY);
      const { user, system } = process.cpuUsage(start);
      return [`${kilobytes} kB`, Math.round((user + system) / 1000)] as const;
    });
    return { text, msPerKilobytes: Object.fromEntries(timings) };
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const file = process.argv[2] ?? FIXTURES;
  const { notes } = parseNotes(readFileSync(file, 'utf8'));
  console.log(`${notes.length} notes of ${file}`);
  console.table(benchNotes(notes.map(({ text }) => text)));
  console.table(benchHostile().map(({ text, msPerKilobytes }) => ({ text, ...msPerKilobytes })));
}
