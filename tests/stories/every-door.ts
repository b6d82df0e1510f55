import { sql } from 'kysely';
import { createBot } from '../../src/app/create-bot.js';
import type { Answer, Deps } from '../../src/commands/common/bot.js';
import { UserError } from '../../src/runtime/errors.js';
import type { Db } from '../../src/store/db.js';
import { FORMS, TAPS } from './doors.js';

/* Every way into the bot, used with the same ids in every part of every value: those of somebody else, or odd ones. */

export type Door = { readonly how: 'tap' | 'submit' | 'type'; readonly name: string };
export type Who = { readonly workspace: string; readonly person: string };
type Fields = ReadonlyMap<string, string | readonly string[] | null>;

const VERBS = [
  ...['book T1', 'book T1 cancel', 'book T1 thu 15:00', 'table T1', 'table T1 open', 'table T1 close'],
  ...[
    'table T1 print',
    'pour T1 3:2:1',
    'note T1',
    'note T1 C: lemon',
    'note my data',
    'tally T1',
    'tally T1 export',
  ],
  ...['digest T1', 'digest T1 12 kg', 'ask', 'shelf', 'recipe', 'words', 'words export', 'house', 'help', ''],
];

export const DOORS: readonly Door[] = [
  ...Object.keys(TAPS).map((name) => ({ how: 'tap' as const, name })),
  ...Object.keys(FORMS).map((name) => ({ how: 'submit' as const, name })),
  ...VERBS.map((name) => ({ how: 'type' as const, name })),
];

/** A value that has every id any button or form reads, each the same number. */
export function everyId(id: number, channel = 'C0OTHER'): string {
  const ids = ['tasting', 'cup', 'note', 'ask', 'coffee', 'recipe', 'other', 'lot', 'version', 'id'];
  return JSON.stringify({
    ...Object.fromEntries(ids.map((name) => [name, id])),
    ratio: [2, 1, 1],
    at: '2026-12-18T14:00:00Z',
    day: '2026-12-17',
    page: 'times',
    from: 0,
    rows: 3,
    fact: 'noticeDays',
    channel,
  });
}

/** Every field any form reads, filled so that the form would do its work. */
export function everyField(id: number): Fields {
  const one = String(id);
  return new Map<string, string | readonly string[]>([
    ...['cup', 'winner', 'best', 'recipe', 'coffee', 'lot', 'coffee1', 'group'].map(
      (name): [string, string] => [name, one],
    ),
    ...['batch', 'grams', 'roasted', 'green'].map((name): [string, string] => [name, '400 g']),
    ['day', '2026-12-17'],
    ['other', '2026-12-17'],
    ['time', '15:00'],
    ['ratio', '3:2:1'],
    ['ratios', '3:2:1'],
    ['text', 'C: lemon'],
    ['order', 'D > E'],
    ['price', '9.50'],
    ['words', 'sugarcane juice'],
    ['attribute', 'cane sugar'],
    ['csv', 'sugarcane juice,cane sugar'],
    ['name', 'Another name'],
    ['part1', '50'],
    ['people', ['U00000NOOR']],
    ['noticeDays', '5'],
  ]);
}

/** Goes through one door; a refusal is an answer, anything else that is thrown comes out. */
export async function goThrough(
  deps: Deps,
  who: Who,
  { how, name }: Door,
  value: string,
  fields: Fields,
  channel: string | null = 'C0OTHER',
): Promise<Answer | UserError> {
  const bot = createBot();
  const form = { id: 'V1', callback: name, privateMetadata: value, values: fields };
  const place = { channel, messageTs: '1.000001', threadTs: null };
  try {
    if (how === 'type')
      return await bot.typed(deps, {
        who,
        channel: channel ?? 'D0OTHER',
        threadTs: null,
        words: name,
        by: 'slash',
      });
    if (how === 'submit') return await bot.submitted(deps, { who, form });
    const inForm = name === 'recipe.row' ? form : null;
    return await bot.tapped(deps, { who, action: name, value, selected: [], ...place, form: inForm });
  } catch (error) {
    if (error instanceof UserError) return error;
    throw error;
  }
}

const UNDONE = new Error('undone');

/** Runs something on the database as it is, and leaves it as it was. */
export async function undone(deps: Deps, work: (deps: Deps) => Promise<void>): Promise<void> {
  try {
    await deps.db.transaction().execute(async (db) => {
      await work({ ...deps, db });
      throw UNDONE;
    });
  } catch (error) {
    if (error !== UNDONE) throw error;
  }
}

/** Every row that one workspace has, and every row that carries no workspace, by table. */
export async function rowsOf(db: Db, workspace: string): Promise<readonly string[]> {
  const { rows: tables } = await sql<{ name: string; sql: string }>`select name, sql from sqlite_master
    where type = 'table' and name not like 'sqlite%' and name not like 'kysely%'`.execute(db);
  const held: string[] = [];
  for (const table of tables) {
    const own = / workspace text/.test(table.sql) ? sql`where workspace = ${workspace}` : sql``;
    const { rows } = await sql`select * from ${sql.table(table.name)} ${own}`.execute(db);
    held.push(...rows.map((row) => `${table.name} ${JSON.stringify(row)}`));
  }
  return held;
}
