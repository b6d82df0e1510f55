import { sql } from 'kysely';
import type { Db } from './db.js';

/** An event as it came in; `eventId` is its identity in the workspace, `lane` what must stay in order. */
export type Incoming = {
  readonly workspace: string;
  readonly eventId: string;
  readonly kind: string;
  readonly lane: string;
  readonly bodyJson: string;
  readonly receivedAt: Date;
};

export type InboxRow = Omit<Incoming, 'receivedAt'> & { readonly id: number; readonly attempts: number };

/** Resolves once the event is safely on disk; false when it had been stored before. */
export async function insertEvent(db: Db, incoming: Incoming): Promise<boolean> {
  const { eventId: event_id, bodyJson: body_json, receivedAt, ...event } = incoming;
  const received_at = receivedAt.toISOString();
  const waits = { state: 'waiting', attempts: 0, next_try_at: null, error: null };
  const row = await db
    .insertInto('inbox')
    .values({ ...event, event_id, body_json, received_at, ...waits })
    .onConflict((conflict) => conflict.columns(['workspace', 'event_id']).doNothing())
    .returning('id')
    .executeTakeFirst();
  return row !== undefined;
}

/** As a literal: the indexes of what waits are found by it. */
const WAITING = sql.lit('waiting');

/** Waiting events in order, leaving out every lane whose first event waits for another try. */
export async function listWaiting(db: Db, now: Date, limit: number): Promise<readonly InboxRow[]> {
  return db
    .selectFrom('inbox')
    .select(['id', 'workspace', 'event_id as eventId', 'kind', 'lane', 'body_json as bodyJson', 'attempts'])
    .where('state', '=', WAITING)
    .where('lane', 'not in', (eb) =>
      eb
        .selectFrom('inbox as held')
        .select('held.lane')
        .where('held.state', '=', WAITING)
        .where('held.next_try_at', '>', now.toISOString()),
    )
    .orderBy('id')
    .limit(limit)
    .execute();
}

/**
 * Marks an event as handled; run it in the transaction that handled it. Its id is kept, so that a repeated
 * one is known; its words are not, for a note keeps its own.
 */
export async function markDone(db: Db, id: number): Promise<void> {
  await db
    .updateTable('inbox')
    .set({ state: 'done', error: null, body_json: '{}' })
    .where('id', '=', id)
    .execute();
}

/** Counts a failed try and says when the next one may be. */
export async function putOff(db: Db, id: number, nextTry: Date, error: string): Promise<void> {
  await db
    .updateTable('inbox')
    .set((eb) => ({
      attempts: eb('attempts', '+', 1),
      next_try_at: nextTry.toISOString(),
      error: error.slice(0, 500),
    }))
    .where('id', '=', id)
    .execute();
}

/** Takes an event that cannot be handled out of the way of its lane; it is kept whole. */
export async function setAside(db: Db, id: number, error: string): Promise<void> {
  await db
    .updateTable('inbox')
    .set((eb) => ({ state: 'set aside', attempts: eb('attempts', '+', 1), error: error.slice(0, 500) }))
    .where('id', '=', id)
    .execute();
}

/** Lets everything that was set aside have another go. */
export async function retrySetAside(db: Db): Promise<void> {
  await db
    .updateTable('inbox')
    .set({ state: 'waiting', attempts: 0, next_try_at: null })
    .where('state', '=', 'set aside')
    .execute();
}

/** Events that could not be handled, the oldest first. */
export async function listSetAside(db: Db) {
  return db
    .selectFrom('inbox')
    .select(['event_id as eventId', 'kind', 'error'])
    .where('state', '=', 'set aside')
    .orderBy('id')
    .execute();
}

/** How many events wait, and when the first of them may be tried. */
export async function waitingEvents(db: Db) {
  const { count, next } = await db
    .selectFrom('inbox')
    .select((eb) => [eb.fn.countAll<number>().as('count'), eb.fn.min('next_try_at').as('next')])
    .where('state', '=', WAITING)
    .executeTakeFirstOrThrow();
  return { count, nextTry: next === null ? null : new Date(next) };
}

/**
 * Forgets handled events older than `before` among the `limit` oldest (ids are in the order of arrival, so
 * nothing else has to be read); returns how many went.
 */
export async function pruneInbox(db: Db, before: Date, limit: number): Promise<number> {
  const result = await db
    .deleteFrom('inbox')
    .where('id', 'in', (eb) => eb.selectFrom('inbox').select('id').orderBy('id').limit(limit))
    .where('state', '=', 'done')
    .where('received_at', '<', before.toISOString())
    .executeTakeFirst();
  return Number(result.numDeletedRows);
}
