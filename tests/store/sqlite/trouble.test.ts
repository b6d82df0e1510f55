import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { lockDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { DatabaseProblem, explainDatabaseError } from '../../../src/store/sqlite/problems.js';

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tallyspoon-store-'));
  file = join(folder, 'bot.db');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

test('a second process on the same file is told so, and the file is free when the first has gone', () => {
  const first = lockDatabase(file);
  expect(() => lockDatabase(file)).toThrow(/Another process is using the database .*bot\.db/);
  first.release();
  lockDatabase(file).release();
});

test('a locked database can still be read, as a backup must', async () => {
  const lock = lockDatabase(file);
  const open = await openDatabase(file);
  const reader = new Database(file, { readonly: true });
  expect(reader.prepare('select count(*) from note').pluck().get()).toBe(0);
  reader.close();
  await open.close();
  lock.release();
});

test('a file that is no database is named, and left as it was', async () => {
  writeFileSync(file, 'not a database at all, but a shopping list that is long enough'.repeat(20));
  const before = readFileSync(file);
  await expect(openDatabase(file)).rejects.toThrow(/bot\.db is not a database, or it is damaged/);
  expect(readFileSync(file)).toEqual(before);
});

test('a damaged database is found at start', async () => {
  const open = await openDatabase(file);
  for (let row = 0; row < 400; row += 1)
    open.sqlite.prepare(`insert into gone_message values ('T', 'C', ?, ?)`).run(String(row), 'x'.repeat(400));
  open.sqlite.pragma('wal_checkpoint(truncate)');
  await open.close();
  const bytes = readFileSync(file);
  bytes.fill(0x5a, bytes.length - 3 * 4096);
  writeFileSync(file, bytes);
  await expect(openDatabase(file)).rejects.toThrow(DatabaseProblem);
  await expect(openDatabase(file)).rejects.toThrow(/damaged.*restore the latest backup/i);
});

/** What SQLite really throws, put into words. */
function wordsFor(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    const explained = explainDatabaseError(error, file);
    return explained instanceof DatabaseProblem ? explained.message : `not explained: ${String(error)}`;
  }
  return 'nothing was thrown';
}

test('a read-only file, a full disk and a missing folder each have their sentence', async () => {
  const open = await openDatabase(file);
  const reader = new Database(file, { readonly: true });
  expect(wordsFor(() => reader.exec(`delete from note`))).toMatch(/bot\.db cannot be written/);
  reader.close();
  open.sqlite.pragma('max_page_count = 1');
  const fill = open.sqlite.prepare(`insert into gone_message values ('T', 'C', ?, ?)`);
  const words = wordsFor(() => {
    for (let row = 0; row < 2000; row += 1) fill.run(String(row), 'x'.repeat(2000));
  });
  expect(words).toMatch(/disk .* is full. Make room/);
  expect(open.sqlite.pragma('integrity_check', { simple: true })).toBe('ok');
  await open.close();
  await expect(openDatabase(join(folder, 'nowhere', 'bot.db'))).rejects.toThrow(
    /directory does not exist|cannot be opened/,
  );
  expect(wordsFor(() => new Database(folder))).toMatch(/cannot be opened/);
});

test('an error that is no trouble with the file is left as it is', () => {
  const error = Object.assign(new Error('x'), { code: 'SQLITE_CONSTRAINT_UNIQUE' });
  expect(explainDatabaseError(error, file)).toBe(error);
});
