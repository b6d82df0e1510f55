import { createHmac } from 'node:crypto';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import type { RunningBot } from '../../src/app/run.js';
import { FORMS, TAPS } from '../stories/doors.js';
import {
  type FakeSlack,
  SIGNING_SECRET,
  sendEvent,
  sendPayload,
  sendSigned,
  startFakeSlack,
  submitPayload,
  TEAM,
  tapPayload,
} from './support/fake-slack.js';
import { startTestBot } from './support/test-bot.js';

/* The real bot behind its real door: what is not rightly signed does nothing, and what is does no harm. */

let slack: FakeSlack;
let running: RunningBot & { readonly url: string };
const lines: string[] = [];
beforeAll(async () => {
  slack = await startFakeSlack();
  running = await startTestBot({ slack, bot: createBot(), onLog: (line) => lines.push(line) });
});
afterAll(async () => {
  await running.stop();
  await slack.stop();
});

const FORM = 'application/x-www-form-urlencoded';
const isAlive = async () => (await fetch(new URL('/healthz', running.url))).status === 200;
const now = () => Math.floor(Date.now() / 1000);
let count = 0;
const unique = () => {
  count += 1;
  return String(count);
};
const command = () =>
  new URLSearchParams({
    ...{ team_id: TEAM, channel_id: 'C1', user_id: 'U1', command: '/spoon', text: 'house notice days 5' },
    trigger_id: unique(),
  }).toString();
const payload = (of: unknown) =>
  new URLSearchParams({ payload: JSON.stringify(of), nonce: unique() }).toString();
const event = () =>
  JSON.stringify({
    ...{ type: 'event_callback', team_id: TEAM, event_id: `Ev${unique()}` },
    event: {
      type: 'message',
      channel_type: 'im',
      channel: 'D1',
      user: 'U1',
      text: 'house notice days 5',
      ts: `1.${unique().padStart(6, '0')}`,
    },
  });
const KINDS = [
  { kind: 'a command', body: command, type: FORM },
  { kind: 'a tap', body: () => payload(tapPayload()), type: FORM },
  { kind: 'a form', body: () => payload(submitPayload()), type: FORM },
  { kind: 'an event', body: event, type: 'application/json' },
];

const send = async (body: string, headers: Readonly<Record<string, string>>) =>
  (await fetch(running.url, { method: 'POST', body, headers })).status;
const signed = (body: string, at: number, secret = SIGNING_SECRET) => ({
  'x-slack-request-timestamp': String(at),
  'x-slack-signature': `v0=${createHmac('sha256', secret).update(`v0:${at}:${body}`).digest('hex')}`,
});

test.each(KINDS)(
  '$kind that is forged, stale, from the future or changed on its way is refused and does nothing',
  async ({ body, type }) => {
    const calls = slack.calls.length;
    const rows = await running.deps.db.selectFrom('inbox').select('id').execute();
    const one = body();
    const right = signed(one, now());
    const wrong: readonly Readonly<Record<string, string>>[] = [
      {},
      { 'x-slack-request-timestamp': right['x-slack-request-timestamp'] },
      { 'x-slack-signature': right['x-slack-signature'] },
      signed(one, now(), 'another secret'),
      signed(`${one} `, now()),
      signed(one, now() - 400),
      signed(one, now() + 400),
      { ...right, 'x-slack-request-timestamp': String(now() - 1) },
      { ...right, 'x-slack-signature': right['x-slack-signature'].replace('v0=', 'v1=') },
      { ...right, 'x-slack-signature': 'v0=' },
      { ...right, 'x-slack-request-timestamp': 'soon' },
    ];
    for (const headers of wrong)
      expect([headers, await send(one, { 'content-type': type, ...headers })]).toEqual([headers, 401]);
    await running.settled();
    expect(slack.calls.length).toBe(calls);
    expect(await running.deps.db.selectFrom('inbox').select('id').execute()).toEqual(rows);
    expect(await running.deps.db.selectFrom('house').select('workspace').execute()).toEqual([]);
  },
);

test.each(KINDS)(
  '$kind sent a second time, byte for byte, is not done twice',
  async ({ kind, body, type }) => {
    const one = body();
    const headers = { 'content-type': type, ...signed(one, now()) };
    const first = await send(one, headers);
    await running.settled();
    const calls = slack.calls.length;
    const second = await send(one, headers);
    await running.settled();
    // An event may come again: Slack does so when it did not hear the answer. It is known by its id.
    expect([first, second]).toEqual([200, kind === 'an event' ? 200 : 401]);
    expect(slack.calls.length).toBe(calls);
  },
);

test.each(KINDS)('$kind of more than a megabyte is refused before it is read', async ({ body, type }) => {
  const big = `${body()}${type === FORM ? '&pad=' : ' '}${'a'.repeat(1_100_000)}`;
  const status = await send(big, { 'content-type': type, ...signed(big, now()) }).catch(() => 413);
  expect(status).toBe(413);
  expect(await isAlive()).toBe(true);
});

test('nothing rightly signed, whatever it holds, ends the bot or is answered with a fault', async () => {
  const word = fc.oneof(
    fc.string({ maxLength: 30, unit: 'grapheme' }),
    fc.constantFrom('', '<!channel>', '\u0000', '../..', '{"tasting":1}', '1', 'null'),
  );
  const value = fc.oneof(
    fc.jsonValue({ maxDepth: 2 }).map((json) => JSON.stringify(json)),
    word,
  );
  const tap = fc
    .record({
      action: fc.oneof(
        fc.constantFrom(...Object.keys(TAPS)),
        word.filter((text) => text !== ''),
      ),
      value,
    })
    .map(({ action, value: held }) =>
      tapPayload({ actions: [{ type: 'button', action_id: action, block_id: 'b', value: held }] }),
    );
  const form = fc
    .record({
      callback: fc.constantFrom(...Object.keys(FORMS)),
      state: value,
      values: fc.dictionary(word, word, { maxKeys: 4 }),
    })
    .map(({ callback, state, values }) =>
      submitPayload({
        callback_id: callback,
        private_metadata: state,
        state: {
          values: Object.fromEntries(
            Object.entries(values).map(([block, text]) => [
              block,
              { input: { type: 'plain_text_input', value: text } },
            ]),
          ),
        },
      }),
    );
  const typed = word.map((text) => ({ text }));
  const said = fc.record({
    text: word,
    thread_ts: fc.option(fc.constantFrom('1.000001', 'x'), { nil: undefined }),
    subtype: fc.option(fc.constantFrom('message_changed', 'message_deleted', 'bot_message'), {
      nil: undefined,
    }),
    message: fc.option(fc.jsonValue({ maxDepth: 1 }), { nil: undefined }),
  });
  await fc.assert(
    fc.asyncProperty(fc.oneof(tap, form, typed, said), async (one) => {
      const sent =
        'type' in one
          ? sendPayload(running.url, one)
          : 'subtype' in one || 'thread_ts' in one
            ? sendEvent(running.url, {
                type: 'message',
                channel: 'C1',
                channel_type: 'channel',
                user: 'U1',
                ts: `2.${unique().padStart(6, '0')}`,
                ...one,
              })
            : sendSigned(
                running.url,
                new URLSearchParams({
                  team_id: TEAM,
                  channel_id: 'C1',
                  user_id: 'U1',
                  command: '/spoon',
                  text: String(one.text ?? ''),
                  trigger_id: unique(),
                }).toString(),
                FORM,
              );
      expect((await sent).status).toBe(200);
    }),
    { numRuns: 250, seed: 21 },
  );
  await running.settled();
  expect(await isAlive()).toBe(true);
  expect(
    lines.filter((line) => line.includes('something went wrong')).map((line) => line.slice(0, 300)),
  ).toEqual([]);
}, 60_000);
