import { afterEach, beforeEach, expect, test } from 'vitest';
import { say } from '../../src/kit/blocks.js';
import { UserError } from '../../src/runtime/errors.js';
import { type FakeSlack, sendSigned, startFakeSlack, TEAM } from './support/fake-slack.js';
import { quietBot, startTestBot } from './support/test-bot.js';

/* A tap that Slack was told of is done: Slack does not send taps again. */

let slack: FakeSlack;
beforeEach(async () => {
  slack = await startFakeSlack();
});
afterEach(() => slack.stop());

const FORM = 'application/x-www-form-urlencoded';

function tapBody(trigger: string, value = '{}'): string {
  const payload = {
    type: 'block_actions',
    team: { id: TEAM },
    user: { id: 'U2NOOR' },
    trigger_id: trigger,
    channel: { id: 'C1' },
    container: { type: 'message', message_ts: '5.000002', thread_ts: '5.000001', channel_id: 'C1' },
    actions: [{ type: 'button', action_id: 'note.cup#1', value }],
  };
  return new URLSearchParams({ payload: JSON.stringify(payload) }).toString();
}

function answers(): readonly unknown[] {
  return slack.callsOf('chat.postEphemeral').map(({ args }) => args);
}

test('it is acknowledged once it was carried out, however long that takes, and answered to whoever tapped', async () => {
  let isDone = false;
  const bot = quietBot({
    tapped: async () => {
      await new Promise((resolve) => setTimeout(resolve, 2600));
      isDone = true;
      return { message: say('Counted for cup C.') };
    },
  });
  const running = await startTestBot({ slack, bot });
  expect((await sendSigned(running.url, tapBody('1.a'), FORM)).status).toBe(200);
  expect(isDone).toBe(true);
  expect(await running.settled()).toBe(true);
  expect(answers()).toMatchObject([{ user: 'U2NOOR', thread_ts: '5.000001', text: 'Counted for cup C.' }]);
  await running.stop();
});

test('a refusal and a fault are told at once, and what else was tapped goes on', async () => {
  const lines: string[] = [];
  const outcomes = [
    () => Promise.reject(new UserError('That note was taken back.', 'Write another.')),
    () => Promise.reject(new Error('the table is on fire')),
    async () => ({ message: say('Counted.') }),
  ];
  const running = await startTestBot({
    slack,
    onLog: (line) => lines.push(line),
    bot: quietBot({ tapped: async (_deps, tap) => outcomes[Number(tap.value)]?.() ?? {} }),
  });
  const bodies = [0, 1, 2].map((value) => tapBody(`1.${value}`, String(value)));
  await Promise.all(bodies.map((body) => sendSigned(running.url, body, FORM)));
  expect(await running.settled()).toBe(true);
  const said = JSON.stringify(answers());
  expect(said).toContain('That note was taken back.\\nWrite another.');
  expect(said).toContain('Counted.');
  const reference = /this reference: ([A-Z0-9]{6})/.exec(said)?.[1] ?? 'none';
  expect(lines.filter((line) => line.includes(reference))[0]).toContain('the table is on fire');
  await running.stop();
});

test('a tap that cannot be stored is answered with an apology, and Slack is not left waiting', async () => {
  const bot = quietBot({
    tapped: async ({ db }) => {
      await db.selectFrom('note').select('id').execute();
      return {};
    },
  });
  const running = await startTestBot({ slack, bot });
  await running.deps.db.schema.alterTable('note').renameTo('note_gone').execute();
  expect((await sendSigned(running.url, tapBody('1.a'), FORM)).status).toBe(200);
  await expect.poll(() => JSON.stringify(answers())).toMatch(/this reference: [A-Z0-9]{6}/);
  await running.deps.db.schema.alterTable('note_gone').renameTo('note').execute();
  await running.stop();
});
