import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { systemClock } from '../../src/runtime/clock.js';
import { createLog } from '../../src/runtime/log.js';
import { createCheckpoints } from '../../src/slack/checkpoints.js';
import { createCounters } from '../../src/slack/counters.js';
import { createRightOfWay } from '../../src/slack/right-of-way.js';
import { checkpoint, checkpointByHand } from '../../src/store/checkpoint.js';
import { type OpenDatabase, openDatabase } from '../../src/store/db.js';

let folder: string;
let file: string;
let open: OpenDatabase;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tallyspoon-checkpoint-'));
  file = join(folder, 'bot.db');
  open = await openDatabase(file);
});
afterEach(async () => {
  await open.close();
  rmSync(folder, { recursive: true, force: true });
});

const WORDS = 'lemon '.repeat(400);

/** About 1,500 pages, half as many again as SQLite would leave in its log by itself. */
async function writeMuch(): Promise<void> {
  await open.db.transaction().execute(async (trx) => {
    for (let turn = 0; turn < 1500; turn += 1)
      await trx
        .insertInto('gone_message')
        .values({ workspace: WORDS, channel: 'C', ts: String(turn), at: 'now' })
        .execute();
  });
}

test('no commit waits for a checkpoint; it is made when asked for', async () => {
  checkpointByHand(open);
  const before = statSync(file).size;
  await writeMuch();
  expect(statSync(file).size).toBe(before);
  await checkpoint(open);
  expect(statSync(file).size).toBeGreaterThan(before + 1_000_000);
});

test('the bot makes one after many rows, and none after a few', async () => {
  const rows = open.sqlite.prepare<[], number>('select total_changes()').pluck();
  const house = {
    rowsWritten: () => rows.get() ?? 0,
    rightOfWay: createRightOfWay(),
    deps: { db: open.db, clock: systemClock, log: createLog('silent'), newSeed: () => 1 },
    counters: createCounters(),
  };
  const checkpoints = createCheckpoints(house, open);
  const before = statSync(file).size;
  const add = (ts: string) =>
    open.db.insertInto('gone_message').values({ workspace: WORDS, channel: 'C', ts, at: 'now' }).execute();
  await add('first');
  checkpoints.wake();
  await vi.waitFor(() => expect(checkpoints.busy).toBe(false));
  expect(statSync(file).size).toBe(before);
  await writeMuch();
  checkpoints.wake();
  await vi.waitFor(() => expect(statSync(file).size).toBeGreaterThan(before + 1_000_000));
  await checkpoints.stop();
});

test('a checkpoint waits for a transaction that is under way', async () => {
  checkpointByHand(open);
  await writeMuch();
  const order: string[] = [];
  const transaction = open.db.transaction().execute(async (trx) => {
    await trx
      .insertInto('gone_message')
      .values({ workspace: 'T', channel: 'C', ts: 'last', at: 'now' })
      .execute();
    await new Promise((resolve) => setTimeout(resolve, 30));
    order.push('committed');
  });
  const checkpointed = checkpoint(open).then(() => order.push('checkpoint'));
  await Promise.all([transaction, checkpointed]);
  expect(order).toEqual(['committed', 'checkpoint']);
});
