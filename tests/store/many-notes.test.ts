import { afterEach, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import { seedScenario } from '../../src/app/seed.js';
import { systemClock } from '../../src/runtime/clock.js';
import { createLog } from '../../src/runtime/log.js';
import { listChanged } from '../../src/store/changed.js';
import { listWaiting, waitingEvents } from '../../src/store/inbox.js';
import { countDiffering, listDiffering } from '../../src/store/notices.js';
import { listDue, nextDue } from '../../src/store/reminders.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';
import { receivedFrom } from '../slack/support/received.js';
import { standTableCard } from './support/standing-card.js';

/*
 * A query that reads a whole table is quick in every test and slow after a year of tastings. So every query of
 * the busy paths is asked how it would run, and none may read all of a table that grows with the notes.
 */

const GROWING = [
  'note',
  'reading',
  'mention',
  'notice',
  'inbox',
  'reminder',
  'tasting_change',
  'gone_message',
];
/** Indexes that hold only what is still to do. */
const SHORT = /USING (COVERING )?INDEX (notice_differs|notice_stopped|inbox_waiting|reminder_due)/;
/** All of one workspace, or of one channel, is all there is in most houses. */
const ONLY_PLACE = /\(workspace=\?( AND channel=\?)?\)/;

let open: OpenDatabase | undefined;
afterEach(async () => open?.close());

test('no query of the busy paths reads more the more notes there are', async () => {
  open = await openDatabase(':memory:');
  const { db, sqlite } = open;
  const queries = new Set<string>();
  const prepare = sqlite.prepare.bind(sqlite);
  sqlite.prepare = (text: string) => {
    queries.add(text);
    return prepare(text);
  };
  const deps = { db, clock: systemClock, log: createLog('silent'), newSeed: () => 7 };
  const bot = createBot();
  await seedScenario(deps, 'T1', new Map([['ines', 'U1']]), 'C1');
  const type = (words: string) =>
    bot.typed(deps, {
      who: { workspace: 'T1', person: 'U1' },
      channel: 'C1',
      threadTs: null,
      words,
      by: 'slash',
    });
  await type('book "Harbour Lamp" tomorrow 14:00 ratios 50/30/20 2:1:1');
  await type('table T1 open');
  await bot.notices(deps, 'T1', 'tasting:1');
  await standTableCard(db, '100.000001');
  const note = receivedFrom({
    type: 'message',
    channel: 'C1',
    channel_type: 'channel',
    user: 'U2',
    text: 'A: lemon, D > E',
    ts: '200.000001',
    thread_ts: '100.000001',
  });
  if (note === null) throw new Error('a note is of use to the bot');
  expect(await bot.concerns(deps, note)).toBe(true);
  await bot.received(deps, note);
  await bot.notices(deps, 'T1', 'note:1');
  await bot.notices(deps, 'T1', 'tasting:1');
  await type('');
  await type('note T1 B: jasmine');
  await type('tally T1');
  await bot.notices(deps, 'T1', 'tasting:1');
  const now = new Date();
  await Promise.all([
    listWaiting(db, now, 50),
    waitingEvents(db),
    listChanged(db, 50),
    listDiffering(db, 50),
    countDiffering(db),
    listDue(db, now, 50),
    nextDue(db),
  ]);
  expect(queries.size).toBeGreaterThan(30);
  const slow = [...queries]
    .filter((text) => /^(with|select|update|delete)/i.test(text))
    .flatMap(readsAll(prepare));
  expect(slow).toEqual([]);
});

function readsAll(prepare: OpenDatabase['sqlite']['prepare']): (text: string) => readonly string[] {
  return (text) =>
    prepare<unknown[], { detail: string }>(`explain query plan ${text}`)
      .all(...Array.from({ length: text.split('?').length - 1 }, () => null))
      .filter(({ detail }) => {
        const table = /^(?:SCAN|SEARCH) (\w+)/.exec(detail)?.[1] ?? '';
        if (!GROWING.includes(table) || SHORT.test(detail)) return false;
        return detail.startsWith('SCAN') || ONLY_PLACE.test(detail);
      })
      .map(({ detail }) => `${detail} in ${text}`);
}
