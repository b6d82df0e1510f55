import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { insertEvent } from '../../../src/store/inbox.js';
import { backUp, listBackups, restoreBackup, rotateBackups } from '../../../src/store/sqlite/backup.js';
import { lockDatabase, openDatabase } from '../../../src/store/sqlite/open.js';

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tallyspoon-backup-'));
  file = join(folder, 'bot.db');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function event(n: number) {
  const at = new Date(1_800_000_000_000 + n);
  return {
    workspace: 'T',
    eventId: `Ev${n}`,
    kind: 'message',
    lane: 'C:1',
    bodyJson: JSON.stringify({ text: 'lemon '.repeat(50) }),
    receivedAt: at,
  };
}

test('a backup made under load restores to a whole database with every event acknowledged before it began', async () => {
  const open = await openDatabase(file);
  const lock = lockDatabase(file);
  let acknowledged = 0;
  let loading = true;
  const load = (async () => {
    for (let n = 0; loading; n += 1) {
      await insertEvent(open.db, event(n));
      acknowledged = n + 1;
      await new Promise((resolve) => setImmediate(resolve));
    }
  })();
  while (acknowledged < 300) await new Promise((resolve) => setTimeout(resolve, 2));
  const before = acknowledged;
  const backup = await backUp(file, join(folder, 'backups'), new Date());
  loading = false;
  await load;
  await open.close();
  lock.release();

  const former = restoreBackup(backup, file, new Date());
  expect(former).not.toBeNull();
  const restored = await openDatabase(file);
  expect(restored.sqlite.pragma('integrity_check', { simple: true })).toBe('ok');
  const ids = new Set(restored.sqlite.prepare('select event_id from inbox').pluck().all());
  const missing = Array.from({ length: before }, (_, n) => `Ev${n}`).filter((id) => !ids.has(id));
  expect(missing).toEqual([]);
  await restored.close();
});

test('a restore is refused while a process uses the database, and from a damaged backup', async () => {
  await (await openDatabase(file)).close();
  const backup = await backUp(file, join(folder, 'backups'), new Date());
  const lock = lockDatabase(file);
  expect(() => restoreBackup(backup, file, new Date())).toThrow(/Another process is using the database/);
  lock.release();
  writeFileSync(backup, 'scribble'.repeat(1000));
  expect(() => restoreBackup(backup, file, new Date())).toThrow(/not a database, or it is damaged/);
  expect(existsSync(file)).toBe(true);
});

test('a backup of a file that is not there says so and leaves nothing behind', async () => {
  await expect(backUp(file, join(folder, 'backups'), new Date())).rejects.toThrow(/cannot be opened/);
  expect(readdirSync(join(folder, 'backups'))).toEqual([]);
});

test('rotation keeps the latest and leaves other files alone', async () => {
  await (await openDatabase(file)).close();
  const backups = join(folder, 'backups');
  for (let day = 1; day <= 5; day += 1) await backUp(file, backups, new Date(`2027-03-0${day}T02:00:00Z`));
  writeFileSync(join(backups, 'keep-me.txt'), 'mine');
  expect(rotateBackups(backups, 2)).toHaveLength(3);
  expect(listBackups(backups).map((path) => path.slice(-19))).toEqual([
    '20270305T020000Z.db',
    '20270304T020000Z.db',
  ]);
  expect(readdirSync(backups)).toContain('keep-me.txt');
});
