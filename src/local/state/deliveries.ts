/** What goes to the bot and what it asks: events that wait for their answer, and the logs of both ways. */
import { z } from 'zod';
import { Call, Delivery, JsonObject } from '../api-types.js';
import { type Db, flag, row, rows, run, save, storedJson } from './database.js';

const Pending = z.object({
  eventId: z.string(),
  body: storedJson(JsonObject),
  retryNum: z.number(),
  reason: z.string().nullable(),
  dueAt: z.number(),
});

/** An event that the bot has not acknowledged yet; due in workspace milliseconds. */
export type PendingEvent = Readonly<z.infer<typeof Pending>>;

export function savePendingEvent(db: Db, event: PendingEvent): void {
  save(db, 'pending_event', ['event_id'], event);
}

export function dropPendingEvent(db: Db, eventId: string): void {
  run(db, 'delete from pending_event where event_id = ?', eventId);
}

/** Events whose time has come, in the order in which they fell due. */
export function dueEvents(db: Db, now: number, most: number): readonly PendingEvent[] {
  const due = 'select * from pending_event where due_at <= ? order by due_at, rowid limit ?';
  return rows(db, Pending, due, now, most);
}

const Next = z.object({ due: z.number().nullable() });

/** When the next event falls due, or nothing. */
export function nextDue(db: Db): number | null {
  return row(db, Next, 'select min(due_at) as due from pending_event').due;
}

/** Rows kept of each log; older ones go, so that a long run does not grow without end. */
const KEPT = 20_000;
const PRUNE_EVERY = 1_000;

/** A text column that an answer leaves out when it is empty. */
const orNothing = z
  .string()
  .nullable()
  .transform((text) => text ?? undefined);
const DeliveryRow = Delivery.extend({ eventId: orNothing, error: orNothing });
const CallRow = Call.extend({ args: storedJson(JsonObject), ok: flag, error: orNothing });

export function logDelivery(db: Db, delivery: Omit<Delivery, 'n'>): void {
  log(db, 'delivery', delivery);
}

/** Deliveries after number `since`, oldest first. */
export function deliveriesSince(db: Db, since: number): z.output<typeof DeliveryRow>[] {
  return rows(db, DeliveryRow, 'select * from delivery where n > ? order by n', since);
}

export function logCall(db: Db, call: Omit<Call, 'n'>): void {
  log(db, 'call', call);
}

/** Web API calls after number `since`, oldest first. */
export function callsSince(db: Db, since: number): z.output<typeof CallRow>[] {
  return rows(db, CallRow, 'select * from call where n > ? order by n', since);
}

function log(db: Db, table: 'delivery' | 'call', entry: Readonly<Record<string, unknown>>): void {
  save(db, table, ['n'], entry);
  run(
    db,
    `delete from ${table} where (select max(n) from ${table}) % ${PRUNE_EVERY} = 0
      and n <= (select max(n) from ${table}) - ${KEPT}`,
  );
}
