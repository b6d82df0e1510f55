import { z } from 'zod';
import { type Call, type Delivery, JsonObject } from '../api-types.js';
import { type Db, rows, run } from './database.js';
import { storedJson } from './stored-json.js';

/** Rows kept of each log; older ones go, so that a long run does not grow without end. */
const KEPT = 20_000;
const PRUNE_EVERY = 1_000;

const DeliveryRow = z
  .object({
    n: z.number(),
    at: z.string(),
    kind: z.string(),
    event_id: z.string().nullable(),
    status: z.number(),
    retry_num: z.number(),
    ms: z.number(),
    error: z.string().nullable(),
  })
  .transform(
    (one): Delivery => ({
      n: one.n,
      at: one.at,
      kind: one.kind,
      ...(one.event_id === null ? {} : { eventId: one.event_id }),
      status: one.status,
      retryNum: one.retry_num,
      ms: one.ms,
      ...(one.error === null ? {} : { error: one.error }),
    }),
  );

export function logDelivery(db: Db, delivery: Omit<Delivery, 'n'>): void {
  run(
    db,
    'insert into delivery (at, kind, event_id, status, retry_num, ms, error) values (?, ?, ?, ?, ?, ?, ?)',
    delivery.at,
    delivery.kind,
    delivery.eventId ?? null,
    delivery.status,
    delivery.retryNum,
    delivery.ms,
    delivery.error ?? null,
  );
  prune(db, 'delivery');
}

/** Deliveries after number `since`, oldest first. */
export function deliveriesSince(db: Db, since: number): Delivery[] {
  return rows(db, 'select * from delivery where n > ? order by n', since).map((one) =>
    DeliveryRow.parse(one),
  );
}

const CallRow = z
  .object({
    n: z.number(),
    at: z.string(),
    method: z.string(),
    args: storedJson(JsonObject),
    ok: z.number(),
    error: z.string().nullable(),
  })
  .transform(
    (one): Call => ({
      n: one.n,
      at: one.at,
      method: one.method,
      args: one.args,
      ok: one.ok === 1,
      ...(one.error === null ? {} : { error: one.error }),
    }),
  );

export function logCall(db: Db, call: Omit<Call, 'n'>): void {
  run(
    db,
    'insert into call (at, method, args, ok, error) values (?, ?, ?, ?, ?)',
    call.at,
    call.method,
    JSON.stringify(call.args),
    call.ok ? 1 : 0,
    call.error ?? null,
  );
  prune(db, 'call');
}

/** Web API calls after number `since`, oldest first. */
export function callsSince(db: Db, since: number): Call[] {
  return rows(db, 'select * from call where n > ? order by n', since).map((one) => CallRow.parse(one));
}

function prune(db: Db, log: 'delivery' | 'call'): void {
  run(
    db,
    `delete from ${log} where (select max(n) from ${log}) % ${PRUNE_EVERY} = 0
      and n <= (select max(n) from ${log}) - ${KEPT}`,
  );
}
