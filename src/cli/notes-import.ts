import { parseArgs } from 'node:util';
import { readConfig } from '../app/config.js';
import { importNotes } from '../commands/notes/note-written.js';
import { systemClock } from '../runtime/clock.js';
import { UserError } from '../runtime/errors.js';
import { createLog } from '../runtime/log.js';
import { lockDatabase, openDatabase } from '../store/sqlite/open.js';
import { DatabaseProblem } from '../store/sqlite/problems.js';
import { parseNotes } from './notes-input.js';
import type { NotesOutside } from './notes-run.js';

/**
 * `npm run notes -- --import T4 --taster NAME FILE`: brings notes kept on paper into a table. The bot must
 * not be running on the same database.
 *
 * @returns the exit code
 */
export async function runImport(
  args: readonly string[],
  environment: Readonly<Record<string, string | undefined>>,
  outside: NotesOutside,
): Promise<number> {
  const words = readWords(args);
  const number = Number(/^t?(\d+)$/i.exec(words.tasting)?.[1]);
  if (!Number.isInteger(number) || !words.taster || !words.file) {
    outside.warn(
      'Say which tasting, whose notes and which file: npm run notes -- --import T4 --taster Noor notes.txt\n',
    );
    return 2;
  }
  const { notes, problems } = parseNotes(outside.read(words.file));
  for (const { line, problem } of problems) outside.warn(`Line ${line} is JSON but no note: ${problem}\n`);
  const { database } = readConfig(environment);
  try {
    return await bringIn(database, number, words.taster, notes, outside);
  } catch (error) {
    if (!(error instanceof UserError) && !(error instanceof DatabaseProblem)) throw error;
    outside.warn(`${error.message}\n`);
    return 1;
  }
}

async function bringIn(
  database: string,
  number: number,
  taster: string,
  notes: ReturnType<typeof parseNotes>['notes'],
  outside: NotesOutside,
): Promise<number> {
  const lock = lockDatabase(database);
  try {
    const { db, close } = await openDatabase(database);
    try {
      const workspace = await db
        .selectFrom('tasting')
        .select('workspace')
        .where('number', '=', number)
        .execute();
      const [only, ...others] = new Set(workspace.map((row) => row.workspace));
      if (only === undefined || others.length > 0)
        throw new UserError(`There is no tasting T${number} in ${database}.`);
      const deps = { db, clock: systemClock, log: createLog('silent'), newSeed: () => 0 };
      const paper = notes.map((note) => ({ text: note.text, homeCup: note.context.homeCup }));
      const { kept, withoutCup } = await importNotes(deps, only, number, taster, paper);
      const unnamed =
        withoutCup > 0
          ? ` ${withoutCup} of them name no cup and are not counted: name the cup in the file, or give "homeCup".`
          : '';
      outside.warn(`Kept ${kept} notes of ${taster} for T${number}.${unnamed}\n`);
      return 0;
    } finally {
      await close();
    }
  } finally {
    lock.release();
  }
}

function readWords(args: readonly string[]): {
  readonly tasting: string;
  readonly taster: string | undefined;
  readonly file: string | undefined;
} {
  const { values, positionals } = parseArgs({
    args: [...args],
    options: { import: { type: 'string', default: '' }, taster: { type: 'string' } },
    allowPositionals: true,
  });
  return { tasting: values.import, taster: values.taster, file: positionals[0] };
}
