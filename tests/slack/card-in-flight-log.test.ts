import { afterEach, beforeEach, expect, test } from 'vitest';
import { type FakeSlack, sendEvent, startFakeSlack } from './support/fake-slack.js';
import { message, quietBot, show, startTestBot } from './support/test-bot.js';

let slack: FakeSlack;
beforeEach(async () => {
  slack = await startFakeSlack();
});
afterEach(() => slack.stop());

/** What a log line says, by pino's levels: 30 is information, 50 a fault. */
async function linesAbout(concerns: () => Promise<boolean>) {
  const lines: { level: number; msg: string }[] = [];
  const running = await startTestBot({
    slack,
    onLog: (line) => lines.push(JSON.parse(line)),
    bot: quietBot({ concerns, notices: async () => [message('table:1', 'T1 · Harbour Lamp')] }),
  });
  slack.fail = ({ method }) => (method === 'chat.postMessage' ? { status: 503 } : null);
  await show(running);
  const isPosting = async () => {
    const rows = await running.deps.db.selectFrom('notice').select('state').execute();
    return rows.map(({ state }) => state);
  };
  await expect.poll(isPosting).toEqual(['posting']);
  const ts = (Date.now() / 1000).toFixed(6);
  const thread_ts = (Date.now() / 1000 - 1).toFixed(6);
  const note = { type: 'message', channel: 'C1', user: 'U2NOOR', text: 'lemon', ts, thread_ts };
  const { status } = await sendEvent(running.url, note);
  await running.stop();
  return { status, faults: lines.filter(({ level }) => level >= 50), lines };
}

test('a note under a card whose place is not known yet is asked for again, and that is no fault', async () => {
  const { status, faults, lines } = await linesAbout(async () => false);
  expect(status).toBe(500);
  expect(faults).toEqual([]);
  expect(lines.map(({ msg }) => msg)).toContain(
    'an event is about a card that is being posted; Slack will send it again',
  );
});

test('an event that fails for another reason is a fault, logged with its cause', async () => {
  const { status, faults } = await linesAbout(async () => {
    throw new Error('the database is away');
  });
  expect(status).toBe(500);
  expect(faults).toMatchObject([
    { err: { message: 'the database is away' } },
    { err: { message: 'the database is away' } },
  ]);
});
