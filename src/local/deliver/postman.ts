import { setTimeout as sleep } from 'node:timers/promises';
import type { JsonObject } from '../api-types.js';
import type { Faults } from '../faults.js';
import type { Db } from '../state/database.js';
import { logDelivery } from '../state/deliveries.js';
import { type BotRequest, noAnswer, type Outcome, type Transport } from './transport.js';

/** Carries one request to the bot, under the faults in force, and writes it into the log. */
export type Postman = {
  readonly deliver: (request: BotRequest, eventId?: string) => Promise<Outcome>;
  /** True once the last delivery reached a bot that answered. */
  readonly online: () => boolean;
  readonly setOnline: (online: boolean) => void;
};

export type PostmanParts = {
  readonly db: Db;
  readonly faults: Faults;
  readonly transport: Transport;
  readonly now: () => Date;
  readonly ackTimeoutMs: number;
  /** Nothing is waited for once the workspace closes. */
  readonly closing: AbortSignal;
  /** The bot came or went. */
  readonly onPresence: () => void;
};

export function postman(parts: PostmanParts): Postman {
  let online = false;
  const setOnline = (value: boolean): void => {
    if (value === online) return;
    online = value;
    parts.onPresence();
  };
  return {
    online: () => online,
    setOnline,
    deliver: async (request, eventId) => {
      const name = deliveryName(request.kind, request.body);
      const began = performance.now();
      const lost = parts.faults.strike('lose-delivery', name) !== undefined;
      const answered = lost
        ? noAnswer('connection_failed')
        : await parts.transport.send(request, parts.ackTimeoutMs);
      if (!lost) setOnline(answered.failure !== 'connection_failed');
      const outcome = await heardUnderFaults(parts, name, answered, began);
      logDelivery(parts.db, {
        at: parts.now().toISOString(),
        kind: name,
        eventId,
        status: outcome.status,
        retryNum: request.retry?.num ?? 0,
        ms: performance.now() - began,
        error: outcome.failure ?? undefined,
      });
      return outcome;
    },
  };
}

/** An answer that is lost, or too slow, is no answer: Slack sees a time-out although the bot has acted. */
async function heardUnderFaults(
  parts: PostmanParts,
  name: string,
  answered: Outcome,
  began: number,
): Promise<Outcome> {
  if (answered.failure !== null) return answered;
  const dropped = parts.faults.strike('drop-ack', name);
  if (dropped !== undefined) {
    await wait(parts, dropped.delayMs ?? 0);
    return noAnswer('http_timeout');
  }
  const slow = parts.faults.strike('slow-ack', name);
  if (slow === undefined) return answered;
  const left = parts.ackTimeoutMs - (performance.now() - began);
  await wait(parts, Math.max(0, Math.min(slow.delayMs, left)));
  return slow.delayMs >= left ? noAnswer('http_timeout') : answered;
}

async function wait(parts: PostmanParts, ms: number): Promise<void> {
  await sleep(ms, undefined, { signal: parts.closing }).catch(() => undefined);
}

/** What a delivery is called in the log and in fault rules. */
export function deliveryName(kind: BotRequest['kind'], body: JsonObject): string {
  if (kind === 'command') return 'command';
  if (kind === 'interactive') return String(body['type']);
  const event = body['event'];
  if (typeof event !== 'object' || event === null || Array.isArray(event)) return String(body['type']);
  return String(event['subtype'] ?? event['type']);
}
