import type { DbOrTransaction } from './db.js';
import { findTableThread } from './threads.js';

/** The messages in a thread that are notes and stand, by their ts. */
export async function listThreadNotes(
  db: DbOrTransaction,
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
  db: DbOrTransaction,
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
