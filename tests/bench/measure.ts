import { copyFileSync, existsSync, readFileSync, rmSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { parseNotes } from '../../src/cli/notes-input.js';
import { type Acknowledged, acknowledge, type Door } from './acknowledge.js';
import { type Child, startChild } from './children.js';
import { type Counted, countNotes } from './count-notes.js';
import { makeDatabase } from './databases.js';
import { type Kept, memory } from './memory.js';
import { benchHostile, benchNotes, type HostileTiming, type NotesSpeed } from './notes-bench.js';
import { type Started, startUp } from './start-up.js';
import { benchTables, type TableTiming } from './table-bench.js';

export type Options = {
  readonly folder: string;
  readonly quick: boolean;
  readonly only: readonly string[] | null;
  readonly notes: number;
  readonly say: (line: string) => void;
};

export type Results = {
  readonly machine: string;
  readonly node: string;
  readonly loadAtStart: number;
  readonly loadAtEnd: number;
  readonly notesInLargeDatabase: number;
  readonly acknowledge: readonly Acknowledged[];
  readonly counted: readonly Counted[];
  readonly startUp: readonly Started[];
  readonly memory: readonly Kept[];
  readonly reader: readonly NotesSpeed[];
  readonly hostile: readonly HostileTiming[];
  readonly tables: readonly TableTiming[];
};

const OPEN_TABLES = 24;
const NORMAL_NOTES = 4000;
/** Notes that come all at once, as when a large table is asked to write. */
const BURST = 500;
/** The most events an app is sent in an hour. */
const CEILING = 30_000;
const Threads = z.array(z.object({ key: z.string(), ts: z.string() }));

/** Runs every measure that is wanted, one after another, and gives what each found. */
export async function measure(options: Options): Promise<Results> {
  const { folder, quick, say } = options;
  const wants = (what: string) => options.only === null || options.only.includes(what);
  const loadAtStart = loadavg()[0] ?? 0;
  const large = join(folder, 'large.db');
  const normal = join(folder, 'normal.db');
  // Reader and tables ask no database, so none is filled for them alone.
  const notes = ['start-up', 'memory', 'acknowledge', 'counted'].some(wants) ? options.notes : NORMAL_NOTES;
  say(`filling a database with ${notes} notes`);
  await makeDatabase(large, notes);
  await makeDatabase(normal, NORMAL_NOTES);
  const slack = await startChild('slack-process', []);
  const children: Child[] = [slack];
  try {
    const started = wants('start-up') ? await startUp(...startUpOf(options, normal, large, slack)) : [];
    const bots = [
      ['bot, empty database', join(folder, 'empty.db')],
      [`bot, ${options.notes} notes`, large],
    ] as const;
    const kept: Kept[] = [];
    if (wants('memory'))
      for (const [name, file] of bots) kept.push(await memoryOf(name, file, slack, options));
    const doors: Door[] = [];
    for (const name of ['floor', 'floor again']) {
      const child = await startChild('floor-process', [join(folder, `${name}.db`)]);
      children.push(child);
      doors.push({ name, child, threads: null });
    }
    for (const [name, file] of bots) {
      const door = await openDoor(name, file, slack);
      children.push(door.child);
      doors.push(door);
    }
    say('acknowledgements');
    const acknowledged = wants('acknowledge') ? await acknowledge(doors, pacesOf(quick), quick ? 3 : 5) : [];
    say('a burst of notes');
    const size = { notes: BURST, rounds: quick ? 3 : 5 };
    const counted = wants('counted')
      ? await countNotes(
          doors.filter(({ threads }, place) => threads !== null || place === 0),
          size,
        )
      : [];
    say('reader and tables');
    const texts = () => parseNotes(readFileSync('fixtures/notes/labelled.jsonl', 'utf8')).notes;
    return {
      machine: `${cpus().length} × ${cpus()[0]?.model.trim() ?? 'unknown processor'}`,
      node: process.version,
      loadAtStart,
      loadAtEnd: loadavg()[0] ?? 0,
      notesInLargeDatabase: options.notes,
      acknowledge: acknowledged,
      counted,
      startUp: started,
      memory: kept,
      reader: wants('reader') ? benchNotes(texts().map(({ text }) => text)) : [],
      hostile: wants('reader') ? benchHostile() : [],
      tables: wants('tables') ? benchTables(quick ? [50, 100] : [50, 100, 200, 500, 1000]) : [],
    };
  } finally {
    for (const child of children.reverse()) await child.stop();
  }
}

async function openDoor(name: string, file: string, slack: Child): Promise<Door> {
  const child = await startChild('bot-process', [file, slack.url], profiling(name));
  return { name, child, threads: await child.ask(Threads, { ask: 'set tables', tables: OPEN_TABLES }) };
}

/** On a copy of its own: tables with a thousand notes each are no company for what is measured next. */
async function memoryOf(name: string, file: string, slack: Child, { quick, say }: Options): Promise<Kept> {
  say(`memory: ${name}`);
  const copy = `${file}.memory`;
  if (existsSync(file)) copyFileSync(file, copy);
  const door = await openDoor(name, copy, slack);
  try {
    return await memory(door, quick ? 3000 : CEILING);
  } finally {
    await door.child.stop();
    rmSync(copy, { force: true });
  }
}

function startUpOf({ quick, notes }: Options, normal: string, large: string, slack: Child) {
  const files = new Map([
    [`${NORMAL_NOTES} notes`, normal],
    [`${notes} notes`, large],
  ]);
  return [files, slack.url, quick ? 3 : 7] as const;
}

/** Slack's ceiling for an app, which is eight events a second, and ten times that. */
function pacesOf(quick: boolean) {
  return [
    { name: '80 a second', requests: quick ? 80 : 400, connections: 10, perSecond: 80 },
    { name: '8 a second', requests: quick ? 24 : 240, connections: 10, perSecond: 8, together: true },
  ];
}

/** With BENCH_PROFILE set to a folder, each bot leaves a processor profile there. */
function profiling(name: string): readonly string[] {
  const folder = process.env['BENCH_PROFILE'];
  if (folder === undefined) return [];
  return [
    '--cpu-prof',
    `--cpu-prof-dir=${folder}`,
    `--cpu-prof-name=${name.replace(/\W+/g, '-')}.cpuprofile`,
  ];
}
