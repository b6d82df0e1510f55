import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { seededRandom } from '../../src/domain/stats/seeded-random.js';
import type { AttributeTree, CountedNote, Placing } from '../../src/domain/tally/counted.js';
import { tallyTable } from '../../src/domain/tally/tally.js';
import { traceSentences } from '../../src/domain/trace/sentences.js';
import { traceBlend } from '../../src/domain/trace/trace.js';
import { decideWinner } from '../../src/domain/verdict/verdict.js';

const CUPS = 12;
const COMPONENTS = 3;
const ATTRIBUTES = 60;
const MENTIONS_PER_NOTE = 5;
const ROUNDS = 7;

const TREE: AttributeTree = {
  familyOf: (attribute) => `family-${Number(attribute.slice(1)) % 9}`,
  ancestorsOf: (attribute) => [
    `subfamily-${Number(attribute.slice(1)) % 20}`,
    `family-${Number(attribute.slice(1)) % 9}`,
  ],
};

/** Processor time of one size of table, in milliseconds, the median of several rounds. */
export type TableTiming = {
  readonly tasters: number;
  readonly mentions: number;
  readonly tallyMs: number;
  readonly traceMs: number;
  readonly decideMs: number;
  /** the same mentions counted by one pass over the rows in plain SQL */
  readonly floorMs: number;
};

function cupId(cup: number): string {
  return `cup-${cup}`;
}

/** Notes on every cup (one in twelve skipped) and likings of the blends by every taster. */
function table(tasters: number): { notes: readonly CountedNote[]; placings: readonly Placing[] } {
  const draw = seededRandom(tasters);
  const who = Array.from({ length: tasters }, (_, taster) => `taster-${taster}`);
  const notes = who.flatMap((taster) =>
    Array.from({ length: CUPS }, (_, cup) => ({
      taster,
      at: draw(100_000),
      id: `${taster}-${cup}`,
      mentions: Array.from({ length: draw(12) === 0 ? 0 : MENTIONS_PER_NOTE }, () => ({
        cup: cupId(cup),
        attribute: `a${(draw(ATTRIBUTES / 2) + cup * 3) % ATTRIBUTES}`,
        polarity: draw(10) === 0 ? ('denied' as const) : ('present' as const),
        intensity: draw(3) === 0 ? draw(5) + 1 : null,
        doubt: draw(10) === 0,
      })),
    })),
  );
  const placings = who.map((taster) => {
    const rated = Array.from(
      { length: CUPS - COMPONENTS },
      (_, cup) => [cupId(cup + COMPONENTS), draw(8) + 1] as const,
    );
    return { taster, at: draw(100_000), id: `p-${taster}`, order: null, liking: Object.fromEntries(rated) };
  });
  return { notes, placings };
}

/** Median processor time of a piece of work. */
function processorMs(work: () => unknown): number {
  work();
  const times = Array.from({ length: ROUNDS }, () => {
    const start = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1000;
  }).sort((a, b) => a - b);
  return times[Math.floor(ROUNDS / 2)] ?? 0;
}

/** The mentions in a table of their own, counted per cup and attribute in one statement. */
function floorOf(notes: readonly CountedNote[]): number {
  const db = new Database(':memory:');
  db.exec(
    'create table mention (cup text, attribute text, taster text, polarity text, intensity real, at integer) strict',
  );
  const insert = db.prepare('insert into mention values (?, ?, ?, ?, ?, ?)');
  db.transaction(() => {
    for (const note of notes) {
      for (const { cup, attribute, polarity, intensity } of note.mentions) {
        insert.run(cup, attribute, note.taster, polarity, intensity, note.at);
      }
    }
  })();
  const count = db.prepare(
    'select cup, attribute, count(distinct taster), avg(intensity), max(at) from mention group by cup, attribute, polarity',
  );
  const ms = processorMs(() => count.all());
  db.close();
  return ms;
}

/** Times tally, trace and verdict of 12 cups beside the floor, for each number of tasters. */
export function benchTables(sizes: readonly number[]): readonly TableTiming[] {
  const cups = Array.from({ length: CUPS }, (_, cup) => cupId(cup));
  const components = cups.slice(0, COMPONENTS).map((cup, index) => ({ cup, parts: COMPONENTS - index }));
  const ratioCups = cups.slice(COMPONENTS).map((id, index) => ({ id, costPerKgCents: 1200 + index }));
  const names = { nameOfCup: (cup: string) => cup, wordOf: (attribute: string) => attribute };
  return sizes.map((tasters) => {
    const { notes, placings } = table(tasters);
    const tally = tallyTable({ cups, notes, tree: TREE });
    return {
      tasters,
      mentions: notes.reduce((sum, { mentions }) => sum + mentions.length, 0),
      tallyMs: processorMs(() => tallyTable({ cups, notes, tree: TREE })),
      traceMs: processorMs(() =>
        traceSentences(traceBlend({ blend: cupId(COMPONENTS), components, tally }), names),
      ),
      decideMs: processorMs(() => decideWinner({ ratioCups, notes, placings })),
      floorMs: floorOf(notes),
    };
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(benchTables([50, 100, 200, 500, 1000]));
}
