import type { Activity } from '../activity.js';
import type { JsonObject } from '../api-types.js';
import type { MovableClock } from '../clock.js';
import type { Faults } from '../faults.js';
import { objectIn, textIn } from '../json.js';
import type { Db } from '../state/database.js';
import {
  dropPendingEvent,
  dueEvents,
  nextDue,
  type PendingEvent,
  savePendingEvent,
} from '../state/deliveries.js';
import { deliveryName, type Postman } from './postman.js';

/** Slack tries an event three times more: at once, after a minute, after five. */
const RETRY_AFTER_MS = [0, 60_000, 300_000] as const;
const AT_A_TIME = 32;
const HOLD_MS = 2_000;
const LONGEST_SLEEP_MS = 60_000;

/**
 * Events wait in the database until the bot acknowledges them or Slack would give up. Waiting is counted
 * on the workspace's clock, so that moving it on brings the retries; three seconds for an answer are real.
 */
export type EventCourier = {
  /** Keeps the event within the caller's transaction; `wake` sends it once that is committed. */
  readonly enqueue: (eventId: string, body: JsonObject) => void;
  readonly wake: () => void;
  /** Events under way or due now. */
  readonly busy: () => boolean;
  readonly stop: () => void;
};

export type CourierParts = {
  readonly db: Db;
  readonly clock: MovableClock;
  readonly faults: Faults;
  readonly postman: Postman;
  readonly activity: Activity;
};

export function eventCourier({ db, clock, faults, postman, activity }: CourierParts): EventCourier {
  const underWay = new Set<string>();
  const repeated = new Set<string>();
  const held = new Map<string, PendingEvent>();
  let timer: NodeJS.Timeout | undefined;
  let stopped = false;

  const due = (): readonly PendingEvent[] =>
    dueEvents(db, clock.now().getTime(), AT_A_TIME + underWay.size).filter(
      (event) => !underWay.has(event.eventId),
    );

  const wake = (): void => {
    if (stopped) return;
    for (const event of due().slice(0, Math.max(0, AT_A_TIME - underWay.size))) {
      underWay.add(event.eventId);
      void activity.during(() => attempt(event));
    }
    plan();
  };

  const plan = (): void => {
    clearTimeout(timer);
    const next = nextDue(db);
    if (next === null || stopped) return;
    const wait = next - clock.now().getTime();
    // What is due and not under way waits for a free place, which wakes the courier itself.
    if (wait <= 0 && underWay.size >= AT_A_TIME) return;
    timer = setTimeout(wake, Math.min(LONGEST_SLEEP_MS, Math.max(wait, 20)));
    timer.unref();
  };

  const attempt = async (event: PendingEvent): Promise<void> => {
    held.delete(event.eventId);
    const { eventId, body, retryNum: num, reason } = event;
    const retry = reason === null ? undefined : { num, reason };
    const outcome = await postman.deliver({ kind: 'event', body, retry }, eventId);
    underWay.delete(event.eventId);
    if (outcome.failure === null) delivered(event);
    // Cut short by closing: it is due again when the workspace opens.
    else if (stopped) return;
    else if (outcome.noRetry) dropPendingEvent(db, event.eventId);
    else again(event, outcome.failure);
    wake();
  };

  const delivered = (event: PendingEvent): void => {
    const now = clock.now().getTime();
    const twice = repeated.has(event.eventId)
      ? undefined
      : faults.strike('deliver-twice', deliveryName('event', event.body));
    repeated.delete(event.eventId);
    if (twice === undefined) dropPendingEvent(db, event.eventId);
    else {
      repeated.add(event.eventId);
      savePendingEvent(db, { ...event, retryNum: 0, reason: null, dueAt: now + (twice.delayMs ?? 0) });
    }
    for (const waiting of held.values()) {
      if (happenedAt(event) <= happenedAt(waiting)) continue;
      savePendingEvent(db, { ...waiting, dueAt: now });
      held.delete(waiting.eventId);
    }
  };

  const again = (event: PendingEvent, reason: string): void => {
    const wait = RETRY_AFTER_MS[event.retryNum];
    if (wait === undefined) dropPendingEvent(db, event.eventId);
    else {
      const dueAt = clock.now().getTime() + wait;
      savePendingEvent(db, { ...event, retryNum: event.retryNum + 1, reason, dueAt });
    }
  };

  return {
    enqueue: (eventId, body) => {
      const name = deliveryName('event', body);
      const now = clock.now().getTime();
      const event = { eventId, body, retryNum: 0, reason: null, dueAt: now };
      const late = faults.strike('deliver-late', name);
      const hold = late === undefined ? faults.strike('deliver-out-of-order', name) : undefined;
      const wait = late?.delayMs ?? (hold === undefined ? 0 : (hold.holdMs ?? HOLD_MS));
      const kept = { ...event, dueAt: now + wait };
      savePendingEvent(db, kept);
      if (hold !== undefined) held.set(eventId, kept);
    },
    wake,
    busy: () => underWay.size > 0 || due().length > 0,
    stop: () => {
      stopped = true;
      clearTimeout(timer);
    },
  };
}

function happenedAt(pending: PendingEvent): string {
  return textIn(objectIn(pending.body['event'])?.['event_ts']) ?? '';
}
