import { afterEach, beforeEach, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import type { RunningBot } from '../../src/app/run.js';
import { seedScenario } from '../../src/app/seed.js';
import {
  type FakeSlack,
  sendCommand,
  sendEvent,
  sendSigned,
  startFakeSlack,
  TEAM,
} from './support/fake-slack.js';
import { startTestBot } from './support/test-bot.js';

let slack: FakeSlack;
let running: RunningBot & { readonly url: string };
let card: string;
beforeEach(async () => {
  slack = await startFakeSlack();
  running = await startTestBot({ slack, bot: createBot() });
  await seedScenario(running.deps, TEAM, new Map([['ines', 'U1INES']]), 'C1');
  await sendCommand(running.url, 'book "Harbour Lamp" tomorrow 14:00 ratios 2:1:1');
  await sendCommand(running.url, 'table T1 open');
  await running.settled();
  const cards = await running.deps.db.selectFrom('notice').select(['key', 'ts']).execute();
  card = cards.find(({ key }) => key === 'table:1')?.ts ?? '';
});
afterEach(async () => {
  await running.stop();
  await slack.stop();
});

const WORD = 'elderflower';
const said = { type: 'message', channel: 'C1', channel_type: 'channel', user: 'U2NOOR', text: WORD };

async function everything(): Promise<string> {
  const { db } = running.deps;
  return JSON.stringify([
    await db.selectFrom('inbox').selectAll().execute(),
    await db.selectFrom('note').selectAll().execute(),
    await db.selectFrom('gone_message').selectAll().execute(),
  ]);
}

test.each([
  ['a message in the channel, outside every thread', { ...said, ts: '1794577001.000100' }],
  ['a reply in somebody’s own thread', { ...said, ts: '1794577002.000100', thread_ts: '1794570000.000100' }],
  [
    'a reply in a channel where the bot has no table',
    { ...said, channel: 'C9', ts: '1794577003.000100', thread_ts: '1794570000.000100' },
  ],
  [
    'an edit of a message that is no note',
    {
      type: 'message',
      subtype: 'message_changed',
      channel: 'C1',
      channel_type: 'channel',
      ts: '1794577004.000200',
      message: {
        user: 'U2NOOR',
        text: WORD,
        ts: '1794577004.000100',
        edited: { user: 'U2NOOR', ts: '1794577004.0' },
      },
      previous_message: { user: 'U2NOOR', text: `not ${WORD}`, ts: '1794577004.000100' },
    },
  ],
  [
    'the deleting of a message that is no note',
    {
      type: 'message',
      subtype: 'message_deleted',
      channel: 'C1',
      channel_type: 'channel',
      ts: '1794577005.000200',
      deleted_ts: '1794577005.000100',
      previous_message: { user: 'U2NOOR', text: WORD, ts: '1794577005.000100' },
    },
  ],
])('of %s nothing is stored, not even for a moment', async (_what, event) => {
  const before = await everything();
  expect((await sendEvent(running.url, event)).status).toBe(200);
  expect(await everything()).toBe(before);
  await running.settled();
  expect(await everything()).toBe(before);
});

test('a note that begins like a command and has a no-break space in it is a note all the same', async () => {
  const note = { ...said, text: `digest\u00a0of ${WORD}`, ts: '1794577009.000100', thread_ts: card };
  await sendEvent(running.url, note);
  await running.settled();
  const notes = await running.deps.db.selectFrom('note').select('ts').execute();
  expect(notes).toEqual([{ ts: '1794577009.000100' }]);
});

test('a reply under the table’s card is stored, so that the silence above means something', async () => {
  await sendEvent(running.url, { ...said, ts: '1794577006.000100', thread_ts: card });
  await running.settled();
  expect(await everything()).toContain(WORD);
});

test.each([
  ['a reply under a card', { ...said, ts: '1794577007.000100' }],
  ['a mention', { ...said, type: 'app_mention', text: '<@U0BOT> table T1', ts: '1794577008.000100' }],
  ['its home tab', { type: 'app_home_opened', user: 'U2NOOR', channel: 'D1', tab: 'home' }],
])('%s in another workspace is answered and not stored, whatever ids it claims', async (_what, event) => {
  const before = await everything();
  const body = {
    type: 'event_callback',
    team_id: 'T0OTHER',
    api_app_id: 'A0',
    event_id: 'EvOther',
    event: { ...event, thread_ts: card },
  };
  expect((await sendSigned(running.url, JSON.stringify(body), 'application/json')).status).toBe(200);
  await running.settled();
  expect(await everything()).toBe(before);
});
