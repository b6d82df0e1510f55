import { sql } from 'kysely';
import type { Db } from './db.js';

/** A thread of one of the bot's own tables; `cupId` is null under the table card itself. */
export type TableThread = { readonly tastingId: number; readonly cupId: number | null };

/** The table whose card stands at this message, or null when the thread is none of the bot's tables. */
export async function findTableThread(
  db: Db,
  workspace: string,
  channel: string,
  threadTs: string,
): Promise<TableThread | null> {
  const card = await db
    .selectFrom('notice')
    .select('key')
    .where('workspace', '=', workspace)
    .where('channel', '=', channel)
    .where('ts', '=', threadTs)
    // As a literal: the index of messages is found by it.
    .where('kind', '=', sql.lit('message'))
    .executeTakeFirst();
  const [kind, number] = card?.key.split(':') ?? [];
  const id = Number(number);
  if (kind === 'table') return { tastingId: id, cupId: null };
  if (kind !== 'cup') return null;
  const cup = await db.selectFrom('cup').select('tasting_id').where('id', '=', id).executeTakeFirst();
  return cup ? { tastingId: cup.tasting_id, cupId: id } : null;
}

/** The messages in a thread that are notes and stand, by their ts. */
export async function listThreadNotes(
  db: Db,
  workspace: string,
  channel: string,
  threadTs: string,
): Promise<readonly string[]> {
  const thread = await findTableThread(db, workspace, channel, threadTs);
  if (!thread) return [];
  const rows = await db
    .selectFrom('note')
    .select('ts')
    .where('tasting_id', '=', thread.tastingId)
    .where('channel', '=', channel)
    .where('thread_ts', '=', threadTs)
    .where('source', '=', 'thread')
    .where('deleted_at', 'is', null)
    .execute();
  return rows.map(({ ts }) => ts);
}

/** The thread of a standing note, or null when it is none or stands in no thread. */
export async function threadOfNote(
  db: Db,
  workspace: string,
  channel: string,
  ts: string,
): Promise<string | null> {
  const row = await db
    .selectFrom('note')
    .select('thread_ts')
    .where('workspace', '=', workspace)
    .where('channel', '=', channel)
    .where('ts', '=', ts)
    .where('deleted_at', 'is', null)
    .executeTakeFirst();
  return row?.thread_ts ?? null;
}
