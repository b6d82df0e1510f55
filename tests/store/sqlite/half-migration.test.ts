import { copyFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { type Kysely, sql } from 'kysely';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { openDatabase } from '../../../src/store/sqlite/open.js';
import { tempFolder } from '../../slack/support/test-bot.js';

/* A migration that breaks half-way, after it has changed the schema and the rows. */
vi.mock('../../../src/store/sqlite/migrations/index.js', async (original) => {
  const { MIGRATIONS } = await original<typeof import('../../../src/store/sqlite/migrations/index.js')>();
  const up = async (db: Kysely<unknown>) => {
    await sql`create table half_done (id integer)`.execute(db);
    await sql`delete from note`.execute(db);
    throw new Error('the disk was pulled out');
  };
  return { MIGRATIONS: { ...MIGRATIONS, '999-half': { up } } };
});

let folder: ReturnType<typeof tempFolder>;
let file: string;
beforeEach(() => {
  folder = tempFolder();
  file = join(folder.path, 'bot.db');
});
afterEach(() => folder.remove());

const STORED = 'fixtures/stored-databases';

function held(): readonly unknown[] {
  const sqlite = new Database(file, { readonly: true });
  const names = sqlite
    .prepare("select name from sqlite_schema where type = 'table' order by name")
    .pluck()
    .all();
  const notes = sqlite.prepare('select id, text from note').all();
  const done = sqlite.prepare('select name from kysely_migration').pluck().all();
  sqlite.close();
  return [names, notes, done];
}

test('a migration that breaks half-way leaves the database as it was', async () => {
  copyFileSync(join(STORED, readdirSync(STORED).toSorted().at(-1) ?? ''), file);
  const before = held();
  await expect(openDatabase(file)).rejects.toThrow('the disk was pulled out');
  expect(held()).toEqual(before);
});
