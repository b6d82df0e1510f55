import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { RunningBot } from '../../src/app/run.js';
import {
  type FakeSlack,
  sendEvent,
  sendPayload,
  sendSigned,
  startFakeSlack,
  submitPayload,
  TEAM,
  tapPayload,
} from './support/fake-slack.js';
import { startTestBot } from './support/test-bot.js';

let slack: FakeSlack;
let running: RunningBot & { readonly url: string };
beforeAll(async () => {
  slack = await startFakeSlack();
  running = await startTestBot({ slack });
});
afterAll(async () => {
  await running.stop();
  await slack.stop();
});

/** A payload with one of its parts, however deep, replaced by something else. */
function damaged(payload: Record<string, unknown>) {
  const paths = pathsOf(payload);
  return fc
    .tuple(fc.constantFrom(...paths), fc.oneof(fc.jsonValue(), fc.constant(undefined)))
    .map(([path, value]) => replaced(payload, path, value));
}

function pathsOf(value: unknown, path: readonly string[] = []): readonly (readonly string[])[] {
  const below =
    typeof value === 'object' && value !== null
      ? Object.entries(value).flatMap(([key, part]) => pathsOf(part, [...path, key]))
      : [];
  return path.length === 0 ? below : [path, ...below];
}

function replaced(value: unknown, path: readonly string[], by: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return by;
  if (Array.isArray(value))
    return value.map((part, index) => (String(index) === key ? replaced(part, rest, by) : part));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, part]) => [name, name === key ? replaced(part, rest, by) : part]),
  );
}

const isAlive = async () => (await fetch(new URL('/healthz', running.url))).status === 200;

// What Bolt itself cannot route is answered by it with 404 after three seconds, so those parts stay whole.
const keepsItsKind = (payload: unknown) => {
  const text = JSON.stringify(payload);
  return /"type":"(block_actions|view_submission)"/.test(text) && /"action_id":"|"callback_id":"/.test(text);
};

test('no tap or form, however it is damaged, is answered with anything but 200 or a refusal, nor ends the bot', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.oneof(damaged(tapPayload()), damaged(submitPayload())).filter(keepsItsKind),
      async (payload) => {
        const answer = await Promise.race([
          sendPayload(running.url, payload),
          new Promise<{ status: number }>((resolve) => setTimeout(() => resolve({ status: 404 }), 300)),
        ]);
        expect([200, 400, 404, 500]).toContain(answer.status);
      },
    ),
    { numRuns: 150, seed: 4 },
  );
  expect(await isAlive()).toBe(true);
});

test('no event, however it is damaged, ends the bot or reaches it unread', async () => {
  const event = {
    type: 'message',
    subtype: 'message_changed',
    channel: 'C1',
    ts: '6.0',
    message: { user: 'U2', text: 'lime', ts: '5.0', edited: { user: 'U2', ts: '6.0' } },
    previous_message: { user: 'U2', text: 'lemon', ts: '5.0' },
  };
  await fc.assert(
    fc.asyncProperty(damaged(event), async (body) => {
      const answer = await sendEvent(running.url, Object(body));
      expect([200, 400, 404, 500]).toContain(answer.status);
    }),
    { numRuns: 150, seed: 4 },
  );
  expect(await running.settled()).toBe(true);
  expect(await isAlive()).toBe(true);
});

test('no command, whatever its fields hold, ends the bot', async () => {
  await fc.assert(
    fc.asyncProperty(fc.dictionary(fc.string(), fc.string()), fc.string(), async (fields, text) => {
      const body = new URLSearchParams({ ...fields, command: '/spoon', team_id: TEAM, text });
      const answer = await sendSigned(running.url, body.toString(), 'application/x-www-form-urlencoded');
      expect([200, 400]).toContain(answer.status);
    }),
    { numRuns: 100, seed: 4 },
  );
  expect(await isAlive()).toBe(true);
});
