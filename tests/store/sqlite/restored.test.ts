import {
  closeSync,
  existsSync,
  openSync,
  readdirSync,
  readFileSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { backUp, restoreBackup } from '../../../src/store/sqlite/backup.js';
import { openDatabase } from '../../../src/store/sqlite/open.js';
import { DatabaseProblem, explainDatabaseError } from '../../../src/store/sqlite/problems.js';
import { tempFolder } from '../../slack/support/test-bot.js';

let folder: ReturnType<typeof tempFolder>;
let file: string;
let backups: string;
beforeEach(() => {
  folder = tempFolder();
  file = join(folder.path, 'bot.db');
  backups = join(folder.path, 'backups');
});
afterEach(() => folder.remove());

const AT = new Date('2027-03-01T02:00:00Z');

/** Remembers these messages as gone; any rows would do. */
async function keep(...names: readonly string[]): Promise<void> {
  const open = await openDatabase(file);
  const insert = open.sqlite.prepare(`insert into gone_message values ('T', 'C', ?, 'x')`);
  for (const name of names) insert.run(name);
  await open.close();
}

function keptIn(path: string): readonly unknown[] {
  const sqlite = new Database(path, { readonly: true });
  const rows = sqlite.prepare('select ts from gone_message order by ts').pluck().all();
  sqlite.close();
  return rows;
}

/** Spoils the last fifth of a database file, where its rows are; the schema stays whole. */
function damage(path: string): void {
  const pages = readFileSync(path).length / 4096;
  const handle = openSync(path, 'r+');
  for (let page = Math.floor(pages * 0.8); page < pages; page += 1)
    writeSync(handle, Buffer.alloc(512, 0x5a), 0, 512, page * 4096);
  closeSync(handle);
}

test('a restore brings back the backup alone, and keeps what was there with what its log still held', async () => {
  await keep('before');
  const backup = await backUp(file, backups, AT);
  expect(readdirSync(backups)).toEqual(['tallyspoon-20270301T020000Z.db']);
  await keep('after');
  // Whoever was killed leaves a log beside the file: it belongs to the former database, never to the restored one.
  const killed = new Database(file);
  killed.pragma('wal_autocheckpoint = 0');
  killed.exec(`insert into gone_message values ('T', 'C', 'in the log', 'x')`);
  const [main, log] = [readFileSync(file), readFileSync(`${file}-wal`)];
  killed.close();
  writeFileSync(file, main);
  writeFileSync(`${file}-wal`, log);

  const former = restoreBackup(backup, file, AT) ?? '';
  expect(existsSync(`${file}-wal`)).toBe(false);
  expect(keptIn(file)).toEqual(['before']);
  expect(keptIn(former)).toEqual(['after', 'before', 'in the log']);
});

test('a restore where nothing was before is just the backup', async () => {
  await keep('before');
  const backup = await backUp(file, backups, AT);
  const elsewhere = join(folder.path, 'new.db');
  expect(restoreBackup(backup, elsewhere, AT)).toBe(null);
  expect(keptIn(elsewhere)).toEqual(['before']);
});

test('a damaged database is never passed off as a backup, nor pushes a good one out', async () => {
  await keep(...Array.from({ length: 300 }, (_, n) => `${n} ${'x'.repeat(300)}`));
  await backUp(file, backups, AT);
  damage(file);
  const failed = backUp(file, backups, new Date('2027-03-02T02:00:00Z'));
  await expect(failed).rejects.toThrow(DatabaseProblem);
  await expect(failed).rejects.toThrow(/damaged/);
  expect(readdirSync(backups)).toEqual(['tallyspoon-20270301T020000Z.db']);
});

test('damage that is met while the bot works, and a disk that fails, have their sentences too', async () => {
  await keep(...Array.from({ length: 300 }, (_, n) => `${n} ${'x'.repeat(300)}`));
  damage(file);
  const words = (error: unknown) => {
    const explained = explainDatabaseError(error, file);
    return explained instanceof DatabaseProblem ? explained.message : `not explained: ${String(error)}`;
  };
  let met: unknown;
  const sqlite = new Database(file);
  try {
    sqlite.prepare('select count(*), sum(length(at)) from gone_message where ts like ?').get('%9%');
    sqlite.exec('vacuum');
  } catch (error) {
    met = error;
  }
  sqlite.close();
  expect(words(met)).toMatch(/bot\.db is damaged.*restore the latest backup/i);
  const failing = Object.assign(new Error('disk I/O error'), { code: 'SQLITE_IOERR_WRITE' });
  expect(words(failing)).toMatch(/disk .* does not answer as it should/);
});
