import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import { type Db, row, rows, run } from './database.js';
import { storedJson } from './stored-json.js';

const Row = z
  .object({
    event_id: z.string(),
    body: storedJson(JsonObject),
    retry_num: z.number(),
    reason: z.string().nullable(),
    due_at: z.number(),
  })
  .transform((one) => ({
    eventId: one.event_id,
    body: one.body,
    retryNum: one.retry_num,
    reason: one.reason,
    dueAt: one.due_at,
  }));

/** An event that the bot has not acknowledged yet; due in workspace milliseconds. */
export type PendingEvent = Readonly<z.infer<typeof Row>>;

export function savePendingEvent(db: Db, event: PendingEvent): void {
  run(
    db,
    `insert into pending_event (event_id, body, retry_num, reason, due_at) values (?, ?, ?, ?, ?)
      on conflict (event_id) do update set retry_num = excluded.retry_num, reason = excluded.reason,
        due_at = excluded.due_at`,
    event.eventId,
    JSON.stringify(event.body),
    event.retryNum,
    event.reason,
    event.dueAt,
  );
}

export function dropPendingEvent(db: Db, eventId: string): void {
  run(db, 'delete from pending_event where event_id = ?', eventId);
}

/** Events whose time has come, in the order in which they fell due. */
export function dueEvents(db: Db, now: number, most: number): readonly PendingEvent[] {
  return rows(
    db,
    'select * from pending_event where due_at <= ? order by due_at, rowid limit ?',
    now,
    most,
  ).map((one) => Row.parse(one));
}

const Next = z.object({ due: z.number().nullable() });

/** When the next event falls due, or nothing. */
export function nextDue(db: Db): number | null {
  return Next.parse(row(db, 'select min(due_at) as due from pending_event')).due;
}
