import type { ModalView } from '@slack/types';
import { expect, test } from 'vitest';
import { noFaults } from '../../src/local/faults.js';
import { startRecorder } from './recording-bot.js';
import { ids, openWorkspace } from './workbench.js';

async function withBot() {
  const opened = await openWorkspace({ ackTimeoutMs: 1_500 });
  const bot = await startRecorder(opened.workspace);
  const say = (text: string) => opened.people.say({ as: ids.noor, channel: ids.channel, text });
  const texts = () => bot.events().map((event) => event['text']);
  return { ...opened, bot, say, texts };
}

test('an event is delivered twice, under the same id', async () => {
  const { people, bot, say, texts } = await withBot();
  await people.faults({ kind: 'deliver-twice', only: ['message'], times: 1 });
  await say('lemon');
  await say('lime');
  await people.settled();
  expect(texts().sort()).toEqual(['lemon', 'lemon', 'lime']);
  expect(new Set(bot.received.map((one) => one.body['event_id'])).size).toBe(2);
  expect(bot.received.map((one) => one.headers['x-slack-retry-num'])).toEqual([
    undefined,
    undefined,
    undefined,
  ]);
});

test('an event is delivered late, on the workspace’s clock', async () => {
  const { people, say, texts } = await withBot();
  await people.faults({ kind: 'deliver-late', delayMs: 60_000 });
  await say('lemon');
  await people.settled();
  expect(texts()).toEqual([]);
  await people.clock({ advance: 60_000 });
  await people.settled();
  expect(texts()).toEqual(['lemon']);
});

test('an edit arrives before its message', async () => {
  const { people, bot, say } = await withBot();
  await people.faults({ kind: 'deliver-out-of-order', only: ['message'], holdMs: 60_000 });
  const ts = await say('lemon');
  await people.post('edit', { as: ids.noor, channel: ids.channel, ts, text: 'lime' });
  await people.settled();
  expect(bot.events().map((event) => event['subtype'] ?? event['text'])).toEqual([
    'message_changed',
    'lemon',
  ]);
});

test('a lost delivery and a lost answer are tried again; the bot has acted on the second', async () => {
  const { people, bot, say } = await withBot();
  await people.faults({ kind: 'lose-delivery', times: 1 });
  await say('lemon');
  await people.settled();
  expect(bot.received.map((one) => one.headers['x-slack-retry-reason'])).toEqual(['connection_failed']);
  await people.faults({ kind: 'drop-ack', times: 1 });
  await say('lime');
  await people.settled();
  expect(bot.received.slice(1).map((one) => one.headers['x-slack-retry-reason'])).toEqual([
    undefined,
    'http_timeout',
  ]);
});

test('a slow answer is waited for, up to the limit', async () => {
  const { people, bot, say } = await withBot();
  await people.faults({ kind: 'slow-ack', delayMs: 100, times: 1 });
  await say('lemon');
  await people.settled();
  expect(bot.received).toHaveLength(1);
  await people.faults({ kind: 'slow-ack', delayMs: 5_000, times: 1 });
  await say('lime');
  await people.settled();
  expect(bot.received).toHaveLength(3);
});

test('a command’s answer can be lost as well', async () => {
  const { people, bot } = await withBot();
  await people.faults({ kind: 'drop-ack', only: ['command'] });
  const answer = await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon' });
  expect(answer).toMatchObject({ ok: false, error: 'operation_timeout' });
  expect(bot.received).toHaveLength(1);
});

test('a method is limited for as long as told, others are not', async () => {
  const { people, slack } = await openWorkspace();
  await people.faults({ kind: 'rate-limit', methods: ['chat.postMessage'], retryAfter: 7, times: 1 });
  const post = () => slack.chat.postMessage({ channel: ids.channel, text: 'a' });
  await expect(post()).rejects.toMatchObject({ retryAfter: 7 });
  expect((await slack.auth.test()).ok).toBe(true);
  expect((await post()).ok).toBe(true);
  expect(await people.messages(ids.noor, ids.channel)).toHaveLength(1);
});

test('a broken server, and a cut before the work, leave nothing done', async () => {
  const { people, slack } = await openWorkspace();
  const post = () => slack.chat.postMessage({ channel: ids.channel, text: 'a' });
  await people.faults({ kind: 'server-error', status: 502, times: 1 }, { kind: 'cut-before', times: 1 });
  await expect(post()).rejects.toMatchObject({ statusCode: 502 });
  await expect(post()).rejects.toThrow(/request error/i);
  expect(await people.messages(ids.noor, ids.channel)).toEqual([]);
  expect((await people.calls()).map((call) => [call.ok, call.error])).toEqual([
    [false, 'http_502'],
    [false, 'cut_before'],
  ]);
});

test('a connection cut after the work leaves the post there', async () => {
  const { people, slack } = await openWorkspace();
  await people.faults({ kind: 'cut-after', methods: ['chat.postMessage'] });
  await expect(slack.chat.postMessage({ channel: ids.channel, text: 'a' })).rejects.toThrow(/request error/i);
  expect(await people.messages(ids.noor, ids.channel)).toHaveLength(1);
});

test.each([
  [false, 0],
  [true, 1],
])('a call without an answer has done its work: %s', async (done, posted) => {
  const { people, slack } = await openWorkspace();
  await people.faults({ kind: 'time-out', holdMs: 100, done });
  await expect(slack.chat.postMessage({ channel: ids.channel, text: 'a' })).rejects.toThrow(/request error/i);
  expect(await people.messages(ids.noor, ids.channel)).toHaveLength(posted);
});

test('a method refuses with the error that is asked for', async () => {
  const { people, slack } = await openWorkspace();
  await people.faults({ kind: 'refuse', methods: ['views.publish'], error: 'fatal_error' });
  const publish = slack.views.publish({ user_id: ids.ines, view: { type: 'home', blocks: [] } });
  await expect(publish).rejects.toMatchObject({ data: { error: 'fatal_error' } });
});

test('triggers and response URLs are handed out too old', async () => {
  const { people, slack, bot } = await withBot();
  await people.faults({ kind: 'expire-triggers' }, { kind: 'expire-response-urls' });
  await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon' });
  const command = bot.received[0]?.body;
  const trigger_id = String(command?.['trigger_id']);
  const view: ModalView = { type: 'modal', title: { type: 'plain_text', text: 'a' }, blocks: [] };
  await expect(slack.views.open({ trigger_id, view })).rejects.toMatchObject({
    data: { error: 'expired_trigger_id' },
  });
  const response = await fetch(String(command?.['response_url']), { method: 'POST', body: '{"text":"a"}' });
  expect([response.status, await response.json()]).toEqual([404, { ok: false, error: 'expired_url' }]);
});

test('response URLs suffer under their own name', async () => {
  const { people, bot } = await withBot();
  await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon' });
  await people.faults({ kind: 'server-error', methods: ['response_url'] });
  const url = String(bot.received[0]?.body['response_url']);
  expect((await fetch(url, { method: 'POST', body: '{"text":"a"}' })).status).toBe(503);
  expect(await people.messages(ids.ines, ids.channel)).toEqual([]);
});

test('rules skip, stop, and are lifted', async () => {
  const { people, slack } = await openWorkspace();
  await people.faults({ kind: 'server-error', methods: ['auth.test'], skip: 1, times: 1 });
  const outcomes: boolean[] = [];
  for (let call = 0; call < 3; call += 1)
    outcomes.push(
      await slack.auth.test().then(
        () => true,
        () => false,
      ),
    );
  expect(outcomes).toEqual([true, false, true]);
  await people.faults({ kind: 'server-error' });
  await people.clearFaults();
  expect((await slack.auth.test()).ok).toBe(true);
});

test('chance repeats with its seed and differs with another', () => {
  const strikes = (seed: number): string => {
    const faults = noFaults();
    faults.arm({ seed, rules: [{ kind: 'deliver-twice', chance: 0.3 }] });
    return Array.from({ length: 200 }, () => (faults.strike('deliver-twice', 'message') ? '1' : '0')).join(
      '',
    );
  };
  expect(strikes(7)).toBe(strikes(7));
  expect(strikes(7)).not.toBe(strikes(8));
  const struck = [...strikes(7)].filter((one) => one === '1').length;
  // 200 draws at 0.3: 60 expected, standard deviation 6.5; five of them either way.
  expect(struck).toBeGreaterThan(27);
  expect(struck).toBeLessThan(93);
});

test('a rule that is not understood is refused', async () => {
  const { people } = await openWorkspace();
  expect(await people.refused('/local/faults', { rules: [{ kind: 'meteor' }] })).toMatchObject({
    error: 'bad_request',
  });
});
