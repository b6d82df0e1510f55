import { sql } from 'kysely';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Received } from '../../src/commands/common/intake.js';
import { listSetAside } from '../../src/store/inbox.js';
import { type FakeSlack, sendEvent, sendSigned, startFakeSlack } from './support/fake-slack.js';
import { quietBot, startTestBot, tempFolder } from './support/test-bot.js';

let slack: FakeSlack;
beforeEach(async () => {
  slack = await startFakeSlack();
});
afterEach(() => slack.stop());

const NOTE = { type: 'message', channel: 'C1', user: 'U2NOOR', text: 'lemon &amp; tea', ts: '5.000001' };

test('an event is on disk before Slack hears 200, and reaches the bot with its entities decoded', async () => {
  const seen: Received[] = [];
  const bot = quietBot({
    received: async (_, received) => {
      seen.push(received);
      return null;
    },
  });
  const running = await startTestBot({ slack, bot });
  expect((await sendEvent(running.url, NOTE)).status).toBe(200);
  expect(await running.settled()).toBe(true);
  expect(seen).toMatchObject([{ kind: 'message', text: 'lemon & tea', ts: '5.000001' }]);
  await running.stop();
});

test('an event delivered twice is handled once', async () => {
  let handled = 0;
  const bot = quietBot({
    received: async () => {
      handled += 1;
      return null;
    },
  });
  const running = await startTestBot({ slack, bot });
  const answers = await Promise.all([1, 2, 3].map(() => sendEvent(running.url, NOTE, 'EvSame')));
  expect(answers.map(({ status }) => status)).toEqual([200, 200, 200]);
  await running.settled();
  expect(handled).toBe(1);
  await running.stop();
});

test('an edit that comes before its message is kept beside it', async () => {
  const kinds: string[] = [];
  const bot = quietBot({
    received: async (_, { kind }) => {
      kinds.push(kind);
      return null;
    },
  });
  const running = await startTestBot({ slack, bot });
  const edit = {
    type: 'message',
    subtype: 'message_changed',
    channel: 'C1',
    ts: '6.000001',
    message: { user: 'U2NOOR', text: 'lime', ts: '5.000001', edited: { user: 'U2NOOR', ts: '6.0' } },
    previous_message: { user: 'U2NOOR', text: 'lemon', ts: '5.000001' },
  };
  await sendEvent(running.url, edit);
  await sendEvent(running.url, NOTE);
  await running.settled();
  expect(kinds).toEqual(['message_changed', 'message']);
  await running.stop();
});

test('what does not concern a table is answered and not stored', async () => {
  const running = await startTestBot({ slack, bot: quietBot({ concerns: async () => false }) });
  expect((await sendEvent(running.url, NOTE)).status).toBe(200);
  const rows = await running.deps.db.selectFrom('inbox').selectAll().execute();
  expect(rows).toEqual([]);
  await running.stop();
});

test("the bot's own posts, their edits, joins and link previews are left alone", async () => {
  const running = await startTestBot({ slack });
  const own = { user: 'U0BOT', bot_id: 'B0BOT', text: 'card', ts: '7.0' };
  const events = [
    { type: 'message', channel: 'C1', ...own },
    { type: 'message', subtype: 'message_changed', channel: 'C1', ts: '8.0', message: own },
    { type: 'message', subtype: 'message_deleted', channel: 'C1', deleted_ts: '7.0', previous_message: own },
    { type: 'message', subtype: 'channel_join', channel: 'C1', user: 'U2NOOR', text: 'joined', ts: '9.0' },
    {
      type: 'message',
      subtype: 'message_changed',
      channel: 'C1',
      ts: '8.1',
      message: { user: 'U2NOOR', text: 'see <https://example.org>', ts: '5.0', attachments: [{}] },
      previous_message: { user: 'U2NOOR', text: 'see <https://example.org>', ts: '5.0' },
    },
  ];
  for (const event of events) expect((await sendEvent(running.url, event)).status).toBe(200);
  expect(await running.deps.db.selectFrom('inbox').selectAll().execute()).toEqual([]);
  await running.stop();
});

test('an event whose handling throws is tried again until it works', async () => {
  let tries = 0;
  const bot = quietBot({
    received: async () => {
      tries += 1;
      if (tries < 3) throw new Error('not yet');
      return null;
    },
  });
  const running = await startTestBot({ slack, bot });
  await sendEvent(running.url, NOTE);
  expect(await running.settled(10_000)).toBe(true);
  expect(tries).toBeGreaterThanOrEqual(3);
  expect(await running.deps.db.selectFrom('inbox').select('state').execute()).toEqual([{ state: 'done' }]);
  await running.stop();
});

test('one bad event holds up neither the others nor what they did, and is set aside, not lost', async () => {
  let time = Date.now();
  const clock = { now: () => new Date(time), onMove: () => () => {} };
  const seen: string[] = [];
  const bot = quietBot({
    received: async (_, received) => {
      const text = JSON.stringify(received);
      if (text.includes('poison')) throw new Error('cannot read this');
      seen.push(text.includes('after') ? 'after' : 'other');
      return null;
    },
  });
  const folder = tempFolder();
  const database = `${folder.path}/bot.db`;
  const running = await startTestBot({ slack, bot, clock, database });
  await sendEvent(running.url, { ...NOTE, text: 'poison' });
  await sendEvent(running.url, { ...NOTE, ts: '5.000002', thread_ts: '5.000001', text: 'after' });
  await sendEvent(running.url, { ...NOTE, ts: '5.000003', text: 'other' });
  for (let step = 0; step < 40 && (await listSetAside(running.deps.db)).length === 0; step += 1) {
    time += 60_000;
    running.runtime.wake();
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  await running.settled();
  expect(seen).toContain('other');
  expect(seen.at(-1)).toBe('after');
  expect(await listSetAside(running.deps.db)).toMatchObject([{ kind: 'message', error: 'cannot read this' }]);
  await running.stop();

  const healed: string[] = [];
  const again = await startTestBot({
    slack,
    database,
    bot: quietBot({
      received: async (_, received) => {
        healed.push(JSON.stringify(received));
        return null;
      },
    }),
  });
  await again.settled();
  expect(healed.filter((body) => body.includes('poison'))).toHaveLength(1);
  await again.stop();
  folder.remove();
});

test('when the disk is full Slack hears 500 and sends the event again', async () => {
  const running = await startTestBot({ slack });
  await sql`pragma max_page_count = 1`.execute(running.deps.db);
  const statuses: number[] = [];
  for (let n = 0; n < 40 && !statuses.includes(500); n += 1)
    statuses.push((await sendEvent(running.url, { ...NOTE, ts: `5.1${n}`, text: 'x'.repeat(3000) })).status);
  expect(statuses).toContain(500);
  const stored = await running.deps.db.selectFrom('inbox').select('id').execute();
  expect(stored).toHaveLength(statuses.filter((status) => status === 200).length);
  await running.stop();
});

test('forged, stale, future, oversized and shapeless requests are refused and the bot lives on', async () => {
  const running = await startTestBot({ slack });
  const now = Math.floor(Date.now() / 1000);
  const event = JSON.stringify({ type: 'event_callback', team_id: 'T0FERN', event_id: 'E', event: NOTE });
  const send = (body: string, type = 'application/json', options = {}) =>
    sendSigned(running.url, body, type, options).then(({ status }) => status);
  expect(await send(event, 'application/json', { headers: { 'x-slack-signature': 'v0=00' } })).toBe(401);
  expect(await send(event, 'application/json', { at: now - 400 })).toBe(401);
  expect(await send(event, 'application/json', { at: now + 400 })).toBe(401);
  expect(await send('null')).toBe(400);
  expect(await send('5')).toBe(400);
  expect(await send('{broken')).toBe(400);
  expect(await send('payload=null', 'application/x-www-form-urlencoded')).toBe(400);
  expect(await send(`{"x":"${'y'.repeat(1_100_000)}"}`)).toBe(413);
  expect((await fetch(running.url)).status).toBe(404);
  expect(await send(event)).toBe(200);
  await running.stop();
});
