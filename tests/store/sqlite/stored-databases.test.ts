import { copyFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { createBot } from '../../../src/app/create-bot.js';
import { MIGRATIONS } from '../../../src/store/sqlite/migrations/index.js';
import { openDatabase } from '../../../src/store/sqlite/open.js';
import { DatabaseProblem } from '../../../src/store/sqlite/problems.js';
import { type FakeSlack, sendCommand, startFakeSlack } from '../../slack/support/fake-slack.js';
import { startTestBot, tempFolder } from '../../slack/support/test-bot.js';
import { tellTasting } from '../support/told-tasting.js';

/*
 * One database of every schema there was, named after its last migration and written by the code of its time:
 * `STORE_DATABASE=1 npx vitest run tests/store/stored-databases.test.ts` writes that of today.
 */

const STORED = 'fixtures/stored-databases';
const stored = readdirSync(STORED).filter((name) => name.endsWith('.db'));
const LATEST = Object.keys(MIGRATIONS).at(-1) ?? '';

let folder: ReturnType<typeof tempFolder>;
let file: string;
let slack: FakeSlack;
beforeEach(async () => {
  folder = tempFolder();
  file = join(folder.path, 'bot.db');
  slack = await startFakeSlack();
});
afterEach(async () => {
  await slack.stop();
  folder.remove();
});

/** Everything SQLite knows of the schema, in the words it was made with. */
function schemaOf(sqlite: Database.Database): readonly unknown[] {
  return sqlite
    .prepare("select type, name, sql from sqlite_schema where name not like 'sqlite_%' order by type, name")
    .all();
}

test('every schema there was has its stored database', () => {
  expect(stored.map((name) => name.replace(/\.db$/, ''))).toEqual(Object.keys(MIGRATIONS));
});

test.each(stored)('%s is brought up to date and is then as a new one is', async (name) => {
  copyFileSync(join(STORED, name), file);
  const open = await openDatabase(file);
  const fresh = await openDatabase(':memory:');
  expect(schemaOf(open.sqlite)).toEqual(schemaOf(fresh.sqlite));
  expect(open.sqlite.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(open.sqlite.pragma('foreign_key_check')).toEqual([]);
  expect(open.sqlite.prepare('select name from kysely_migration order by name').pluck().all()).toEqual(
    Object.keys(MIGRATIONS),
  );
  await fresh.close();
  await open.close();
});

test.each(stored)('the tasting in %s reads as it was written', async (name) => {
  copyFileSync(join(STORED, name), file);
  await readsAsTold();
});

/** Starts the bot on the file and asks it: five people found strawberry, four of five put D first, one note is gone. */
async function readsAsTold(): Promise<void> {
  slack.fail = ({ method }) =>
    method === 'conversations.replies' ? { ok: false, error: 'thread_not_found' } : null;
  const running = await startTestBot({ slack, database: file, bot: createBot() });
  const ask = async (text: string) => {
    await running.settled();
    return `${(await sendCommand(running.url, text)).text}`;
  };
  expect(await ask('table T2')).toContain('T2');
  expect(await ask('words "harbour fog"')).toMatch(/smok/i);
  expect(await ask('recipe "Harbour Lamp"')).toContain('Kayanza Hill');
  const { db } = running.deps;
  const strawberry = await db
    .selectFrom('mention')
    .innerJoin('note', 'note.id', 'mention.note_id')
    .select('note.person')
    .distinct()
    .where('mention.attribute', '=', 'strawberry')
    .where('note.deleted_at', 'is', null)
    .orderBy('note.person')
    .execute();
  expect(strawberry.map(({ person }) => person)).toEqual(['U2NOOR', 'U3TEO', 'U5SOL', 'U6WREN']);
  const gone = await db.selectFrom('note').select('person').where('deleted_at', 'is not', null).execute();
  expect(gone).toEqual([{ person: 'U7JUN' }]);
  expect(await ask('digest T1')).toContain('decided');
  const asked = await ask('book "Harbour Lamp" tomorrow 18:00 ratios 2:1:1');
  expect(asked).toContain('T4');
  await running.stop();
}

test('a database of today reads as it was written, and can be stored', async () => {
  await tellTasting(file);
  if (process.env['STORE_DATABASE'] !== undefined) {
    rmSync(`${STORED}/${LATEST}.db`, { force: true });
    const written = new Database(file);
    written.exec(`vacuum into '${STORED}/${LATEST}.db'`);
    written.close();
  }
  await readsAsTold();
});

test('an empty file becomes a new database', async () => {
  writeFileSync(file, '');
  const open = await openDatabase(file);
  expect(open.sqlite.prepare('select count(*) from note').pluck().get()).toBe(0);
  await open.close();
});

test('a database of a newer Tallyspoon is refused in one line, and left as it was', async () => {
  await (await openDatabase(file)).close();
  const newer = new Database(file);
  newer
    .prepare('insert into kysely_migration values (?, ?)')
    .run('999-of-another-year', '2030-01-01T00:00:00Z');
  newer.close();
  const refused = openDatabase(file);
  await expect(refused).rejects.toThrow(DatabaseProblem);
  await expect(refused).rejects.toThrow(/newer Tallyspoon.*999-of-another-year.*Update/);
  const after = new Database(file, { readonly: true });
  expect(after.prepare('select max(name) from kysely_migration').pluck().get()).toBe('999-of-another-year');
  after.close();
});

test('a database of something else is refused in one line, and gets no tables of ours', async () => {
  const other = new Database(file);
  other.exec('create table shopping_list (item text)');
  other.close();
  await expect(openDatabase(file)).rejects.toThrow(/bot\.db .*something else.*DATABASE/);
  const after = new Database(file, { readonly: true });
  expect(after.prepare("select name from sqlite_schema where type = 'table'").pluck().all()).toEqual([
    'shopping_list',
  ]);
  after.close();
});
