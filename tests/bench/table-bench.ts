import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { SHIPPED_VOCABULARY } from '../../src/domain/notes/vocabulary.js';
import type { ReadNote } from '../../src/domain/record/note.js';
import { ratioCups } from '../../src/domain/record/table-setting.js';
import { attributeTree, countedNotes, latestWords, placingsIn } from '../../src/domain/tally/counted.js';
import { tallyTable } from '../../src/domain/tally/tally.js';
import { traceBlend } from '../../src/domain/trace/trace.js';
import { largeNotes } from '../commands/table/large-table.js';
import { decideTable } from '../domain/verdict/decide.js';
import { type Figure, figure } from './figures.js';
import { digestOf, processorMs, resultOf, VIEW } from './large-table-work.js';

const ROUNDS = 9;
const FRESH_PROCESSES = 5;
/** Each reading takes as many repeats as make up this many tasters, so that reading the clock does not show. */
const TASTERS_A_READING = 1000;

/** Processor time of one size of table of twelve cups, in milliseconds. */
export type TableTiming = {
  readonly tasters: number;
  readonly notes: number;
  readonly mentions: number;
  readonly tally: Figure;
  readonly trace: Figure;
  readonly verdict: Figure;
  readonly digest: Figure;
  /** from stored notes to the digest's payload, all of it */
  readonly whole: Figure;
  /** the same as the first work of a fresh process */
  readonly first: Figure;
  /** the same mentions counted by one pass over the rows in plain SQL */
  readonly floor: Figure;
};

type Work = readonly (readonly [part: 'tally' | 'trace' | 'verdict' | 'digest' | 'whole', () => unknown])[];

function workOn(notes: readonly ReadNote[]): Work {
  const cups = VIEW.cups.map(({ id }) => String(id));
  const ratios = ratioCups(VIEW.cups).map(({ id }) => ({ id: String(id), costPerKgCents: 1200 + id }));
  const components = cups.slice(0, 3).map((cup, index) => ({ cup, parts: 3 - index }));
  const tree = attributeTree(SHIPPED_VOCABULARY);
  const counted = countedNotes(notes);
  const placings = placingsIn(notes);
  const result = resultOf(notes);
  return [
    ['tally', () => tallyTable({ cups, words: latestWords(counted), tree })],
    ['trace', () => traceBlend({ blend: cups[3] ?? '', components, tally: result.tally })],
    ['verdict', () => decideTable({ ratioCups: ratios, notes: counted, placings })],
    ['digest', () => digestOf(result)],
    ['whole', () => digestOf(resultOf(notes))],
  ];
}

/** The mentions in a table of their own, counted per cup and attribute in one statement. */
function floorOn(db: Database.Database, notes: readonly ReadNote[]): () => unknown {
  db.exec(
    'create table mention (cup integer, attribute text, taster text, polarity text, intensity real, at text) strict',
  );
  const insert = db.prepare('insert into mention values (?, ?, ?, ?, ?, ?)');
  db.transaction(() => {
    for (const { person, ts, reading } of notes) {
      for (const { cupId, attribute, polarity, intensity } of reading.mentions)
        insert.run(cupId, attribute, person, polarity, intensity, ts);
    }
  })();
  const count = db.prepare(
    'select cup, attribute, count(distinct taster), avg(intensity), max(at) from mention group by cup, attribute, polarity',
  );
  return () => count.all();
}

function firstMs(tasters: number): number {
  const script = fileURLToPath(new URL('first-table.js', import.meta.url));
  return Number(execFileSync(process.execPath, [script, String(tasters)], { encoding: 'utf8' }));
}

/** Times tally, trace, verdict and digest of 12 cups beside the floor; sizes and parts take turns, round by round. */
export function benchTables(sizes: readonly number[]): readonly TableTiming[] {
  const tables = sizes.map((tasters) => {
    const notes = largeNotes(tasters);
    const db = new Database(':memory:');
    const parts = [...workOn(notes), ['floor', floorOn(db, notes)] as const];
    return { tasters, notes, db, parts, times: new Map(parts.map(([part]) => [part, [] as number[]])) };
  });
  for (let round = 0; round <= ROUNDS; round += 1) {
    for (const { tasters, parts, times } of tables) {
      for (const [part, work] of parts) {
        const ms = processorMs(work, Math.ceil(TASTERS_A_READING / tasters));
        // The first round warms up.
        if (round > 0) times.get(part)?.push(ms);
      }
    }
  }
  return tables.map(({ tasters, notes, db, times }) => {
    db.close();
    const of = (part: Work[number][0] | 'floor') => figure(times.get(part) ?? []);
    return {
      tasters,
      notes: notes.length,
      mentions: notes.reduce((sum, { reading }) => sum + reading.mentions.length, 0),
      tally: of('tally'),
      trace: of('trace'),
      verdict: of('verdict'),
      digest: of('digest'),
      whole: of('whole'),
      first: figure(Array.from({ length: FRESH_PROCESSES }, () => firstMs(tasters))),
      floor: of('floor'),
    };
  });
}
