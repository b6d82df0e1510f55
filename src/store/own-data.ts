import { sql } from 'kysely';
import { markChanged } from './changed.js';
import type { Db } from './db.js';
import { type MessagePlace, markGone } from './notes.js';

/*
 * Whose words are erased, and where they stand: in the note and what was read of it, in what is shown of it, in
 * exports, and in events that still wait.
 */

/** A person within their workspace. */
export type Person = { readonly workspace: string; readonly person: string };

/** What one person has written: standing notes, and the tastings they stand at, the oldest first. */
export async function ownTables(
  db: Db,
  { workspace, person }: Person,
): Promise<readonly { readonly tastingId: number; readonly notes: number }[]> {
  return db
    .selectFrom('note')
    .select((eb) => ['tasting_id as tastingId', eb.fn.countAll<number>().as('notes')])
    .where((eb) => eb.and({ workspace, person, deleted_at: null }))
    .groupBy('tasting_id')
    .orderBy('tasting_id')
    .execute();
}

/** Keys of what a person is told alone about their own notes. */
export async function besideKeys(db: Db, { workspace, person }: Person): Promise<readonly string[]> {
  const rows = await db
    .selectFrom('notice')
    .select('key')
    .where('workspace', '=', workspace)
    .where('key', 'like', `beside:%:${person}`)
    .execute();
  return rows.map(({ key }) => key);
}

/** Withdraws the note of a deleted message and remembers the delete. The words themselves are not stored any more. */
export async function withdrawNote(db: Db, message: MessagePlace, at: Date): Promise<void> {
  const { workspace, channel, ts } = message;
  await markGone(db, message, at);
  const row = await db
    .updateTable('note')
    .set({ deleted_at: at.toISOString(), text: '' })
    .where((eb) => eb.and({ workspace, channel, ts, deleted_at: null }))
    .returning('id')
    .executeTakeFirst();
  if (!row) return;
  await forgetRead(db, row.id);
  // "Which cup was that?" quotes the note.
  await db
    .deleteFrom('notice')
    .where((eb) => eb.and({ workspace, subject: `note:${row.id}`, kind: 'private' }))
    .execute();
}

/** What an erasure touched: how many notes at which tastings, and the notes whose reaction has to go. */
export type Erased = {
  readonly notes: number;
  readonly tastingIds: readonly number[];
  readonly noteIds: readonly number[];
};

/**
 * Erases everything a person wrote: words, mentions, placings, likings, corrections, what was shown or is to
 * be shown to them of it, and events of theirs that still wait. What stays is that notes were there, without
 * words and without a name, so that their messages, which stand in Slack, are never read back.
 */
export async function eraseOwnData(db: Db, who: Person, at: Date): Promise<Erased> {
  const { workspace, person } = who;
  const notes = await db
    .selectFrom('note')
    .select(['id', 'tasting_id', 'source', 'deleted_at'])
    .where((eb) => eb.and({ workspace, person }))
    .orderBy('tasting_id')
    .execute();
  for (const { id, source, deleted_at } of notes) {
    await forgetRead(db, id);
    // The key of a form's notes holds the person's id.
    const key = source === 'thread' ? {} : { channel: `erased:${id}` };
    const nothing = { person: '', text: '', chosen_cup_id: null, deleted_at: deleted_at ?? at.toISOString() };
    await db
      .updateTable('note')
      .set({ ...nothing, ...key })
      .where('id', '=', id)
      .execute();
  }
  await forgetShown(db, who);
  await forgetWaiting(db, who, at);
  const standing = notes.filter(({ deleted_at }) => deleted_at === null).map((note) => note.tasting_id);
  const tastingIds = [...new Set(standing)];
  for (const tastingId of tastingIds) await forgetExports(db, workspace, tastingId, at);
  const noteIds = notes.filter(({ source }) => source === 'thread').map(({ id }) => id);
  return { notes: standing.length, tastingIds, noteIds };
}

/** Notes of one tasting that were erased at their writer's wish after it closed. */
export async function countErased(db: Db, tastingId: number, closedAt: Date): Promise<number> {
  const { count } = await db
    .selectFrom('note')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where((eb) => eb.and({ tasting_id: tastingId, person: '' }))
    .where('deleted_at', '>', closedAt.toISOString())
    .executeTakeFirstOrThrow();
  return count;
}

/** What a note was understood to say, and its writer's corrections of that. */
async function forgetRead(db: Db, noteId: number): Promise<void> {
  for (const table of ['reading', 'mention', 'correction'] as const)
    await db.deleteFrom(table).where('note_id', '=', noteId).execute();
}

/** Questions that quote the notes, and files that were made of them. */
async function forgetShown(db: Db, { workspace, person }: Person): Promise<void> {
  await db
    .deleteFrom('notice')
    .where('workspace', '=', workspace)
    .where((eb) =>
      eb.or([
        eb('subject', 'like', `mine:${person}:%`),
        eb.and([eb('kind', '=', 'private'), eb(sql<string>`wanted_json ->> 'person'`, '=', person)]),
      ]),
    )
    .execute();
}

/** Files with everybody's words, sent once and stored no longer; one that is still to be sent is written anew. */
async function forgetExports(db: Db, workspace: string, tastingId: number, at: Date): Promise<void> {
  const gone = await db
    .deleteFrom('notice')
    .where('workspace', '=', workspace)
    .where('key', 'like', `export:${tastingId}:%`)
    .returning(['subject', 'shown_hash'])
    .execute();
  for (const { subject, shown_hash } of gone)
    if (shown_hash === null) await markChanged(db, workspace, subject, at);
}

/** Events of theirs that were not handled yet, or could not be. */
async function forgetWaiting(db: Db, { workspace, person }: Person, at: Date): Promise<void> {
  const event = sql`body_json -> 'event'`;
  const rows = await db
    .selectFrom('inbox')
    .select([
      'id',
      sql<string | null>`${event} ->> 'channel'`.as('channel'),
      sql<string | null>`coalesce(${event} -> 'message' ->> 'ts', ${event} ->> 'ts')`.as('ts'),
    ])
    .where('workspace', '=', workspace)
    .where('state', '<>', 'done')
    .where('kind', 'in', ['message', 'message_changed', 'message_deleted', 'app_mention'])
    .where(
      sql<boolean>`${person} in (
        ${event} ->> 'user', ${event} -> 'message' ->> 'user', ${event} -> 'previous_message' ->> 'user'
      )`,
    )
    .execute();
  for (const { id, channel, ts } of rows) {
    if (channel !== null && ts !== null) await markGone(db, { workspace, channel, ts }, at);
    await db.updateTable('inbox').set({ state: 'done', body_json: '{}' }).where('id', '=', id).execute();
  }
}
