import { sql } from 'kysely';
import { markChanged } from './changed.js';
import type { DbOrTransaction } from './db.js';

/** A person within their workspace. */
export type Person = { readonly workspace: string; readonly person: string };

/** What one person has written: standing notes, and the tastings they stand at, the oldest first. */
export async function ownTables(
  db: DbOrTransaction,
  { workspace, person }: Person,
): Promise<readonly { readonly tastingId: number; readonly notes: number }[]> {
  const rows = await db
    .selectFrom('note')
    .select((eb) => ['tasting_id', eb.fn.countAll<number>().as('notes')])
    .where('workspace', '=', workspace)
    .where('person', '=', person)
    .where('deleted_at', 'is', null)
    .groupBy('tasting_id')
    .orderBy('tasting_id')
    .execute();
  return rows.map((row) => ({ tastingId: row.tasting_id, notes: row.notes }));
}

/** What an erasure touched: how many notes at each tasting, and the notes whose reaction has to go. */
export type Erased = {
  readonly tables: readonly { readonly tastingId: number; readonly notes: number }[];
  readonly noteIds: readonly number[];
};

/**
 * Erases everything a person wrote: words, mentions, placings, likings, corrections, what was shown or is to
 * be shown to them of it, and events of theirs that still wait. What stays is that notes were there, without
 * words and without a name, so that their messages, which stand in Slack, are never read back.
 */
export async function eraseOwnData(db: DbOrTransaction, who: Person, at: Date): Promise<Erased> {
  const { workspace, person } = who;
  const notes = await db
    .selectFrom('note')
    .select(['id', 'tasting_id', 'source', 'channel', 'ts', 'deleted_at'])
    .where('workspace', '=', workspace)
    .where('person', '=', person)
    .execute();
  for (const note of notes) {
    for (const table of ['reading', 'mention', 'correction'] as const)
      await db.deleteFrom(table).where('note_id', '=', note.id).execute();
    // The key of a form's notes holds the person's id.
    const key = note.source === 'thread' ? {} : { channel: `erased:${note.id}` };
    await db
      .updateTable('note')
      .set({
        person: '',
        text: '',
        chosen_cup_id: null,
        deleted_at: note.deleted_at ?? at.toISOString(),
        ...key,
      })
      .where('id', '=', note.id)
      .execute();
  }
  await forgetShown(db, who);
  await forgetWaiting(db, who, at);
  const standing = notes.filter((note) => note.deleted_at === null);
  const counts = new Map<number, number>();
  for (const { tasting_id: id } of standing) counts.set(id, (counts.get(id) ?? 0) + 1);
  const tables = [...counts].map(([tastingId, count]) => ({ tastingId, notes: count }));
  for (const { tastingId } of tables) await forgetExports(db, workspace, tastingId, at);
  return {
    tables,
    noteIds: notes.filter((note) => note.source === 'thread').map((note) => note.id),
  };
}

/** Notes of one tasting that were erased at their writer's wish after it closed. */
export async function countErased(db: DbOrTransaction, tastingId: number, closedAt: Date): Promise<number> {
  const row = await db
    .selectFrom('note')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('tasting_id', '=', tastingId)
    .where('person', '=', '')
    .where('deleted_at', '>', closedAt.toISOString())
    .executeTakeFirst();
  return row?.count ?? 0;
}

/**
 * Has the database file itself forget: what was overwritten still stands in the write-ahead log until it is
 * put into the file. Not possible inside a transaction.
 */
export async function forgetOnDisk(db: DbOrTransaction): Promise<void> {
  if (!db.isTransaction) await sql`pragma wal_checkpoint(truncate)`.execute(db);
}

async function neverReadAgain(
  db: DbOrTransaction,
  workspace: string,
  channel: string,
  ts: string,
  at: Date,
): Promise<void> {
  await db
    .insertInto('gone_message')
    .values({ workspace, channel, ts, at: at.toISOString() })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

/** Questions that quote the notes, and files that were made of them. */
async function forgetShown(db: DbOrTransaction, { workspace, person }: Person): Promise<void> {
  await db
    .deleteFrom('notice')
    .where('workspace', '=', workspace)
    .where((eb) =>
      eb.or([
        eb('subject', 'like', `mine:${person}:%`),
        eb.and([
          eb('kind', '=', 'private'),
          eb(sql<string>`json_extract(wanted_json, '$.person')`, '=', person),
        ]),
      ]),
    )
    .execute();
}

/** Files with everybody's words, shared once and kept no longer; one that is still to be shared is written anew. */
async function forgetExports(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
  at: Date,
): Promise<void> {
  const gone = await db
    .deleteFrom('notice')
    .where('workspace', '=', workspace)
    .where('key', 'like', `export:${tastingId}:%`)
    .returning(['subject', 'shown_hash'])
    .execute();
  for (const { subject, shown_hash } of gone)
    if (shown_hash === null) await markChanged(db, workspace, subject, at);
}

/** Keys of what a person is told alone about their own notes. */
export async function besideKeys(
  db: DbOrTransaction,
  { workspace, person }: Person,
): Promise<readonly string[]> {
  const rows = await db
    .selectFrom('notice')
    .select('key')
    .where('workspace', '=', workspace)
    .where('key', 'like', `beside:%:${person}`)
    .execute();
  return rows.map(({ key }) => key);
}

/** Events of theirs that were not handled yet, or could not be. */
async function forgetWaiting(db: DbOrTransaction, { workspace, person }: Person, at: Date): Promise<void> {
  const rows = await db
    .selectFrom('inbox')
    .select([
      'id',
      sql<string | null>`json_extract(body_json, '$.event.channel')`.as('channel'),
      sql<
        string | null
      >`coalesce(json_extract(body_json, '$.event.message.ts'), json_extract(body_json, '$.event.ts'))`.as(
        'ts',
      ),
    ])
    .where('workspace', '=', workspace)
    .where('state', '<>', 'done')
    .where('kind', 'in', ['message', 'message_changed', 'message_deleted', 'app_mention'])
    .where(
      sql<boolean>`${person} in (
        json_extract(body_json, '$.event.user'), json_extract(body_json, '$.event.message.user'),
        json_extract(body_json, '$.event.previous_message.user')
      )`,
    )
    .execute();
  for (const { id, channel, ts } of rows) {
    if (channel !== null && ts !== null) await neverReadAgain(db, workspace, channel, ts, at);
    await db.updateTable('inbox').set({ state: 'done', body_json: '{}' }).where('id', '=', id).execute();
  }
}
