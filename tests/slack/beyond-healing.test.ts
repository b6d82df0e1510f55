import { afterEach, beforeEach, expect, test } from 'vitest';
import type { RunningBot } from '../../src/app/run.js';
import type { Notice } from '../../src/kit/notice.js';
import { type FakeSlack, startFakeSlack } from './support/fake-slack.js';
import { givenUp, message, quietBot, show, startTestBot } from './support/test-bot.js';

let slack: FakeSlack;
let running: RunningBot | undefined;
let wanted: readonly Notice[] = [];
const bot = quietBot({ notices: async () => wanted });
beforeEach(async () => {
  slack = await startFakeSlack();
});
afterEach(async () => {
  await running?.stop();
  await slack.stop();
});

const TO_BRAM: Notice = message('ask:1', 'a roast ask', { kind: 'direct', person: 'U9BRAM' });
const IN_CHANNEL = message('table:1', 'a table card');
const TO_MIKA: Notice = {
  kind: 'private',
  key: 'which:1',
  channel: 'C1',
  person: 'U4MIKA',
  threadTs: null,
  message: { text: 'Which cup was it?', blocks: [] },
};
const ON_NOTE: Notice = { kind: 'reaction', key: 'note:1', channel: 'C1', ts: '5.000001', name: 'eyes' };

test.each([
  ['an archived channel', 'chat.postMessage', 'is_archived', IN_CHANNEL],
  ['a channel the bot was removed from', 'chat.postMessage', 'not_in_channel', IN_CHANNEL],
  ['a private channel the bot was removed from', 'chat.postMessage', 'channel_not_found', IN_CHANNEL],
  ['a person who was deactivated', 'conversations.open', 'user_disabled', TO_BRAM],
  ['a person who is gone', 'conversations.open', 'user_not_found', TO_BRAM],
  ['somebody who left the channel', 'chat.postEphemeral', 'user_not_in_channel', TO_MIKA],
  ['a note in an archived channel', 'reactions.add', 'is_archived', ON_NOTE],
])(
  '%s stops its notice after one try, is told once, and keeps no other waiting',
  async (_who, method, error, notice) => {
    const lines: string[] = [];
    running = await startTestBot({ slack, bot, onLog: (line) => lines.push(line) });
    slack.fail = (call) =>
      call.method === method && call.args['channel'] !== 'C2' ? { ok: false, error } : null;
    wanted = [notice, message('table:2', 'elsewhere', { kind: 'channel', channel: 'C2' })];
    await show(running);
    expect(await running.settled()).toBe(true);
    expect(slack.callsOf(method).filter(({ args }) => args['channel'] !== 'C2')).toHaveLength(1);
    expect(givenUp(lines)).toMatchObject([{ key: notice.key, error }]);
    expect(slack.messages.map(({ text }) => text)).toContain('elsewhere');
    await show(running);
    await running.settled();
    expect(givenUp(lines)).toHaveLength(1);
  },
);

test('429 on an update holds back every update for as long as told, and no post', async () => {
  running = await startTestBot({ slack, bot });
  wanted = [message('table:1', 'one'), message('cup:1', 'cup')];
  await show(running);
  expect(await running.settled()).toBe(true);
  const calls: { readonly method: string; readonly at: number }[] = [];
  let limited = true;
  slack.fail = ({ method }) => {
    calls.push({ method, at: performance.now() });
    if (method !== 'chat.update' || !limited) return null;
    limited = false;
    return { status: 429, headers: { 'retry-after': '1' } };
  };
  wanted = [
    message('table:1', 'one, changed'),
    message('cup:1', 'cup, changed'),
    message('table:2', 'elsewhere', { kind: 'channel', channel: 'C2' }),
  ];
  await show(running);
  expect(await running.settled()).toBe(true);
  const [first, ...later] = calls.filter(({ method }) => method === 'chat.update');
  const waits = later.map(({ at }) => at - (first?.at ?? 0));
  expect(waits).toHaveLength(2);
  expect(Math.min(...waits)).toBeGreaterThanOrEqual(950);
  const post = calls.find(({ method }) => method === 'chat.postMessage');
  expect((post?.at ?? Number.POSITIVE_INFINITY) - (first?.at ?? 0)).toBeLessThan(900);
});
