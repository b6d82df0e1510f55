import { afterEach, beforeEach, expect, test } from 'vitest';
import { type FakeSlack, sendEvent, startFakeSlack } from './support/fake-slack.js';
import { quietBot, startTestBot } from './support/test-bot.js';

/*
 * What was handled is known again for a day. What comes later than that cannot be told from a repeat: a note is
 * kept once however often it comes, but words said to the bot would be carried out twice.
 */

const HOUR_MS = 60 * 60 * 1000;

let slack: FakeSlack;
beforeEach(async () => {
  slack = await startFakeSlack();
});
afterEach(() => slack.stop());

async function startAt(at: Date) {
  let now = at.getTime();
  const listeners = new Set<() => void>();
  const handled: string[] = [];
  const running = await startTestBot({
    slack,
    clock: {
      now: () => new Date(now),
      onMove: (listener) => {
        listeners.add(listener);
        return () => void listeners.delete(listener);
      },
    },
    bot: quietBot({
      received: async (_, { kind }) => {
        handled.push(kind);
        return null;
      },
    }),
  });
  return {
    running,
    handled,
    async goOn(hours: number): Promise<void> {
      now += hours * HOUR_MS;
      for (const listener of listeners) listener();
      await running.settled();
    },
  };
}

const said = (at: Date) => ({
  channel: 'C1',
  user: 'U2NOOR',
  text: '<@U0BOT> book "Harbour Lamp"',
  ts: `${at.getTime() / 1000}.000100`,
});

const noon = new Date('2026-11-04T12:00:00Z');

test.each([
  ['a mention', { ...said(noon), type: 'app_mention' }],
  ['a direct message', { ...said(noon), type: 'message', channel_type: 'im' }],
])('%s that comes again days later is not carried out again', async (_, event) => {
  const { running, handled, goOn } = await startAt(noon);
  await sendEvent(running.url, event, 'EvSaid');
  await running.settled();
  expect(handled).toHaveLength(1);
  await goOn(7 * 24);
  expect((await sendEvent(running.url, event, 'EvSaid')).status).toBe(200);
  await running.settled();
  expect(handled).toHaveLength(1);
  await running.stop();
});

test('a mention that comes hours late for the first time is carried out, and once only', async () => {
  const { running, handled, goOn } = await startAt(noon);
  const event = { ...said(noon), type: 'app_mention' };
  await goOn(20);
  await sendEvent(running.url, event, 'EvSaid');
  await running.settled();
  await goOn(2);
  await sendEvent(running.url, event, 'EvSaid');
  await running.settled();
  expect(handled).toEqual(['app_mention']);
  await running.stop();
});

test('a note that comes days late is kept all the same', async () => {
  const { running, handled, goOn } = await startAt(noon);
  await goOn(7 * 24);
  await sendEvent(running.url, { ...said(noon), type: 'message', thread_ts: '1.000001' }, 'EvNote');
  await running.settled();
  expect(handled).toEqual(['message']);
  await running.stop();
});
