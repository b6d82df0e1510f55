import { expect, test } from 'vitest';
import { noAnswer, type Outcome, type Transport } from '../../src/local/deliver/transport.js';
import { type Acknowledged, watched } from './watched-transport.js';

const accepted: Outcome = { status: 200, body: '', contentType: '', noRetry: false, failure: null };
const event = { kind: 'event', body: { event_id: 'Ev1', event: { type: 'message' } } } as const;

function listening(outcome: Outcome, threads: () => ReadonlySet<string>) {
  const heard: Acknowledged[] = [];
  const real: Transport = { send: async () => outcome };
  return {
    heard,
    wire: watched(
      () => real,
      threads,
      () => new Date(0),
      (one) => heard.push(one),
    ),
  };
}

test('an event counts as acknowledged when the bot answered 2xx, and not otherwise', async () => {
  const good = listening(accepted, () => new Set());
  await good.wire.send(event, 100);
  expect(good.heard.map(({ eventId }) => eventId)).toEqual(['Ev1']);
  const bad = listening(noAnswer('http_timeout'), () => new Set());
  await bad.wire.send(event, 100);
  expect(bad.heard).toEqual([]);
});

test('what the bot knew when the event was sent is what it is judged by, not what it learnt meanwhile', async () => {
  let known = new Set(['1.0']);
  const heard: Acknowledged[] = [];
  const real: Transport = {
    send: async () => {
      known = new Set(['1.0', '2.0']);
      return accepted;
    },
  };
  await watched(
    () => real,
    () => known,
    () => new Date(0),
    (one) => heard.push(one),
  ).send(event, 100);
  expect([...(heard[0]?.threads ?? [])]).toEqual(['1.0']);
});

test('an event sent again is as old as its first sending, for the bot may forget it a day after that', async () => {
  const heard: Acknowledged[] = [];
  let at = 0;
  let outcome: Outcome = noAnswer('http_timeout');
  const wire = watched(
    () => ({ send: async () => outcome }),
    () => new Set(),
    () => new Date(at),
    (one) => heard.push(one),
  );
  await wire.send(event, 100);
  at = 90_000;
  outcome = accepted;
  await wire.send(event, 100);
  expect(heard.map(({ firstSentAt }) => firstSentAt.getTime())).toEqual([0]);
});
