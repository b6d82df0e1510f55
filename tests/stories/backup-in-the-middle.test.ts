import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import { seedScenario } from '../../src/app/seed.js';
import { backUp, restoreBackup } from '../../src/store/sqlite/backup.js';
import { type FakeSlack, sendCommand, sendEvent, startFakeSlack, TEAM } from '../slack/support/fake-slack.js';
import { startTestBot, tempFolder } from '../slack/support/test-bot.js';

const LINES = 4;
const NOTES_BEFORE = 120;

let slack: FakeSlack;
let folder: ReturnType<typeof tempFolder>;
beforeEach(async () => {
  slack = await startFakeSlack();
  folder = tempFolder();
});
afterEach(async () => {
  await slack.stop();
  folder.remove();
});

test('a backup taken while tasters write restores whole, with every note acknowledged before it began', async () => {
  const database = join(folder.path, 'bot.db');
  const running = await startTestBot({ slack, database, bot: createBot() });
  await seedScenario(running.deps, TEAM, new Map([['ines', 'U1INES']]), 'C1');
  await sendCommand(running.url, 'book "Harbour Lamp" tomorrow 14:00 ratios 50/30/20 2:1:1');
  await sendCommand(running.url, 'table T1 open');
  expect(await running.settled()).toBe(true);
  const cards = await running.deps.db
    .selectFrom('notice')
    .select('ts')
    .where('key', 'like', 'cup:%')
    .where('ts', 'is not', null)
    .execute();
  expect(cards.length).toBeGreaterThan(3);

  const acknowledged: string[] = [];
  let writing = true;
  const write = async (line: number) => {
    for (let place = line; writing; place += LINES) {
      const ts = `${1_900_000_000 + place}.000100`;
      const thread_ts = cards[place % cards.length]?.ts;
      const taster = { channel: 'C1', channel_type: 'channel', user: `U${place % 12}TASTER` };
      const event = { type: 'message', text: 'lemon, black tea, light body', ts, thread_ts, ...taster };
      const { status } = await sendEvent(running.url, event, `note:${ts}`);
      if (status === 200) acknowledged.push(ts);
    }
  };
  const lines = Array.from({ length: LINES }, (_, line) => write(line));
  while (acknowledged.length < NOTES_BEFORE) await new Promise((resolve) => setTimeout(resolve, 2));
  const before = [...acknowledged];
  const backup = await backUp(database, join(folder.path, 'backups'), new Date());
  writing = false;
  await Promise.all(lines);
  await running.stop();
  restoreBackup(backup, database, new Date());

  const restored = new Database(database, { readonly: true });
  expect(restored.pragma('integrity_check', { simple: true })).toBe('ok');
  restored.close();
  // This Slack keeps no tasters' messages, so that the threads cannot be read again: only the backup tells.
  slack.fail = ({ method }) =>
    method === 'conversations.replies' ? { ok: false, error: 'thread_not_found' } : null;
  const again = await startTestBot({ slack, database, bot: createBot() });
  await again.settled();
  const counted = await again.deps.db
    .selectFrom('note')
    .innerJoin('mention', 'mention.note_id', 'note.id')
    .select('note.ts')
    .distinct()
    .execute();
  await again.stop();
  const kept = new Set(counted.map(({ ts }) => ts));
  expect(before.filter((ts) => !kept.has(ts))).toEqual([]);
});
