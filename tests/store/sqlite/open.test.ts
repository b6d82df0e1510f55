import { afterEach, expect, test } from 'vitest';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';

let open: OpenDatabase | undefined;
afterEach(async () => open?.close());

test('a new database has every table, checks its foreign keys and keeps a write-ahead log', async () => {
  open = await openDatabase(':memory:');
  const names = open.sqlite.prepare("select name from sqlite_master where type = 'table'").pluck().all();
  expect(names).toEqual(expect.arrayContaining(['coffee', 'tasting', 'note', 'inbox', 'notice', 'reminder']));
  expect(open.sqlite.pragma('foreign_keys', { simple: true })).toBe(1);
  expect(open.sqlite.pragma('foreign_key_check')).toEqual([]);
});
