import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Bot } from '../../src/commands/common/bot.js';
import { say } from '../../src/kit/blocks.js';
import { KindRefusal } from '../../src/runtime/errors.js';
import { type FakeSlack, sendEvent, sendSigned, startFakeSlack, TEAM } from './support/fake-slack.js';
import { quietBot, startTestBot } from './support/test-bot.js';

/* A tap that says something of a note is stored first, like the note, and carried out from there. */

let slack: FakeSlack;
beforeEach(async () => {
  slack = await startFakeSlack();
});
afterEach(() => slack.stop());

const FORM = 'application/x-www-form-urlencoded';

function tapBody(trigger: string): string {
  const payload = {
    type: 'block_actions',
    team: { id: TEAM },
    user: { id: 'U2NOOR' },
    trigger_id: trigger,
    channel: { id: 'C1' },
    container: { type: 'message', message_ts: '5.000002', thread_ts: '5.000001', channel_id: 'C1' },
    actions: [{ type: 'button', action_id: 'note.cup#1', value: '{}' }],
  };
  return new URLSearchParams({ payload: JSON.stringify(payload) }).toString();
}

function keeping(does: Partial<Bot>): Bot {
  return quietBot({ keepsTap: ({ action }) => action === 'note.cup', ...does });
}

function whispers(): readonly unknown[] {
  return slack.callsOf('chat.postEphemeral').map(({ args }) => args);
}

test('it is carried out once, in the order of its thread, and answered to whoever tapped', async () => {
  const done: string[] = [];
  const bot = keeping({
    tapped: async () => {
      done.push('tap');
      return { message: say('Counted for cup C.') };
    },
    receiver: () => async () => {
      done.push('note');
      return null;
    },
  });
  const running = await startTestBot({ slack, bot });
  const note = { type: 'message', channel: 'C1', user: 'U2NOOR', text: 'lemon', thread_ts: '5.000001' };
  await sendEvent(running.url, { ...note, ts: '5.000003' });
  expect((await sendSigned(running.url, tapBody('1.a'), FORM)).status).toBe(200);
  await sendEvent(running.url, { ...note, ts: '5.000004' });
  expect(await running.settled()).toBe(true);
  expect(done).toEqual(['note', 'tap', 'note']);
  expect(whispers()).toMatchObject([{ user: 'U2NOOR', thread_ts: '5.000001', text: 'Counted for cup C.' }]);
  const left = await running.deps.db.selectFrom('inbox').select(['state', 'body_json']).execute();
  expect(left.every(({ state, body_json }) => state === 'done' && body_json === '{}')).toBe(true);
  await running.stop();
});

test('what comes twice with one trigger is carried out once', async () => {
  let done = 0;
  const bot = keeping({
    tapped: async () => {
      done += 1;
      return {};
    },
  });
  const running = await startTestBot({ slack, bot });
  await sendSigned(running.url, tapBody('1.a'), FORM);
  await sendSigned(running.url, `${tapBody('1.a')}&again=1`, FORM);
  await sendSigned(running.url, tapBody('1.b'), FORM);
  await running.settled();
  expect(done).toBe(2);
  await running.stop();
});

test('a refusal and a fault are told at once, and what else waits goes on', async () => {
  const lines: string[] = [];
  const answers = [
    () => Promise.reject(new KindRefusal('not found', 'That note was taken back.', 'Write another.')),
    () => Promise.reject(new Error('the table is on fire')),
    async () => ({ message: say('Counted.') }),
  ];
  const running = await startTestBot({
    slack,
    onLog: (line) => lines.push(line),
    // The three wait together and are taken together first, where a failing one stops the others.
    bot: keeping({ tapped: async (_deps, tap) => answers[Number(tap.value)]?.() ?? {} }),
  });
  const bodies = [0, 1, 2].map((value) =>
    tapBody(`1.${value}`).replace(encodeURIComponent('"{}"'), encodeURIComponent(`"${value}"`)),
  );
  await Promise.all(bodies.map((body) => sendSigned(running.url, body, FORM)));
  expect(await running.settled()).toBe(true);
  const said = JSON.stringify(whispers());
  expect(said).toContain('That note was taken back.\\nWrite another.');
  expect(said).toContain('Counted.');
  const reference = /this reference: ([A-Z0-9]{6})/.exec(said)?.[1] ?? 'none';
  expect(lines.filter((line) => line.includes(reference))[0]).toContain('the table is on fire');
  await running.stop();
});

test('a tap that cannot be stored is answered with an apology, and Slack is not left waiting', async () => {
  const running = await startTestBot({ slack, bot: keeping({}) });
  await running.deps.db.schema.alterTable('inbox').renameTo('inbox_gone').execute();
  expect((await sendSigned(running.url, tapBody('1.a'), FORM)).status).toBe(200);
  await expect.poll(() => JSON.stringify(whispers())).toMatch(/this reference: [A-Z0-9]{6}/);
  await running.deps.db.schema.alterTable('inbox_gone').renameTo('inbox').execute();
  await running.stop();
});

test('other taps, and those in a form, are carried out before Slack hears of them', async () => {
  const done: string[] = [];
  const bot = quietBot({
    tapped: async ({ db }) => {
      done.push((await db.selectFrom('inbox').select('id').execute()).length === 0 ? 'at once' : 'stored');
      return {};
    },
  });
  const running = await startTestBot({ slack, bot });
  await sendSigned(running.url, tapBody('1.a'), FORM);
  expect(done).toEqual(['at once']);
  await running.stop();
});
