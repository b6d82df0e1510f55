import { sql } from 'kysely';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';

/** An event as it came in; `eventId` is its identity in the workspace, `lane` what must stay in order. */
export type Incoming = {
  readonly workspace: string;
  readonly eventId: string;
  readonly kind: string;
  readonly lane: string;
  readonly bodyJson: string;
  readonly receivedAt: Date;
};

export type InboxRow = Incoming & { readonly id: number; readonly attempts: number };

const insert = prepared<
  Record<'workspace' | 'eventId' | 'kind' | 'lane' | 'bodyJson' | 'receivedAt', string>
>()((db, given) =>
  db
    .insertInto('inbox')
    .values({
      workspace: given('workspace'),
      event_id: given('eventId'),
      kind: given('kind'),
      lane: given('lane'),
      body_json: given('bodyJson'),
      received_at: given('receivedAt'),
      state: 'waiting',
      attempts: 0,
      next_try_at: null,
      error: null,
    })
    .onConflict((conflict) => conflict.columns(['workspace', 'event_id']).doNothing())
    .returning('id'),
);

/** Resolves once the event is safely on disk; false when it had been stored before. */
export async function insertEvent(db: DbOrTransaction, incoming: Incoming): Promise<boolean> {
  const rows = await insert(db, { ...incoming, receivedAt: incoming.receivedAt.toISOString() });
  return rows.length === 1;
}

const waiting = prepared<{ readonly now: string; readonly limit: number }>()((db, given) =>
  db
    .selectFrom('inbox')
    .select(['id', 'workspace', 'event_id', 'kind', 'lane', 'body_json', 'received_at', 'attempts'])
    .where('state', '=', sql.lit('waiting'))
    .where('lane', 'not in', (eb) =>
      eb
        .selectFrom('inbox as held')
        .select('held.lane')
        .where('held.state', '=', sql.lit('waiting'))
        .where('held.next_try_at', '>', given('now')),
    )
    .orderBy('id')
    .limit(given('limit')),
);

/** Waiting events in order, leaving out every lane whose first event waits for another try. */
export async function listWaiting(
  db: DbOrTransaction,
  now: Date,
  limit: number,
): Promise<readonly InboxRow[]> {
  const rows = await waiting(db, { now: now.toISOString(), limit });
  return rows.map((row) => ({
    id: row.id,
    workspace: row.workspace,
    eventId: row.event_id,
    kind: row.kind,
    lane: row.lane,
    bodyJson: row.body_json,
    receivedAt: new Date(row.received_at),
    attempts: row.attempts,
  }));
}

const done = prepared<{ readonly id: number }>()((db, given) =>
  db.updateTable('inbox').set({ state: 'done', error: null, body_json: '{}' }).where('id', '=', given('id')),
);

/**
 * Marks an event as handled; run it in the transaction that handled it. Its id is kept, so that a repeated
 * one is known; its words are not, for a note keeps its own.
 */
export async function markDone(db: DbOrTransaction, id: number): Promise<void> {
  await done(db, { id });
}

/** Counts a failed try and says when the next one may be. */
export async function putOff(db: DbOrTransaction, id: number, nextTry: Date, error: string): Promise<void> {
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
export async function setAside(db: DbOrTransaction, id: number, error: string): Promise<void> {
  await db
    .updateTable('inbox')
    .set((eb) => ({ state: 'set aside', attempts: eb('attempts', '+', 1), error: error.slice(0, 500) }))
    .where('id', '=', id)
    .execute();
}

/** Lets everything that was set aside have another go; returns how many there were. */
export async function retrySetAside(db: DbOrTransaction): Promise<number> {
  const result = await db
    .updateTable('inbox')
    .set({ state: 'waiting', attempts: 0, next_try_at: null })
    .where('state', '=', 'set aside')
    .executeTakeFirst();
  return Number(result.numUpdatedRows);
}

export type SetAside = { readonly eventId: string; readonly kind: string; readonly error: string | null };

/** Events that could not be handled, the oldest first. */
export async function listSetAside(db: DbOrTransaction): Promise<readonly SetAside[]> {
  const rows = await db
    .selectFrom('inbox')
    .select(['event_id', 'kind', 'error'])
    .where('state', '=', 'set aside')
    .orderBy('id')
    .execute();
  return rows.map((row) => ({ eventId: row.event_id, kind: row.kind, error: row.error }));
}

const waitingCount = prepared<Readonly<Record<never, string>>>()((db) =>
  db
    .selectFrom('inbox')
    .select((eb) => [eb.fn.countAll<number>().as('count'), eb.fn.min('next_try_at').as('next_try_at')])
    .where('state', '=', sql.lit('waiting')),
);

/** How many events wait, and when the first of them may be tried. */
export async function waitingEvents(
  db: DbOrTransaction,
): Promise<{ readonly count: number; readonly nextTry: Date | null }> {
  const [row] = await waitingCount(db, {});
  return { count: row?.count ?? 0, nextTry: row?.next_try_at ? new Date(row.next_try_at) : null };
}

/**
 * Forgets handled events older than `before` among the `limit` oldest (ids are in the order of arrival, so
 * nothing else has to be read); returns how many went.
 */
export async function pruneInbox(db: DbOrTransaction, before: Date, limit: number): Promise<number> {
  const result = await db
    .deleteFrom('inbox')
    .where('id', 'in', (eb) => eb.selectFrom('inbox').select('id').orderBy('id').limit(limit))
    .where('state', '=', 'done')
    .where('received_at', '<', before.toISOString())
    .executeTakeFirst();
  return Number(result.numDeletedRows);
}
