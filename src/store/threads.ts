import { sql } from 'kysely';
import type { DbOrTransaction } from './db.js';

/** A thread of one of the bot's own tables; `cupId` is null under the table card itself. */
export type TableThread = { readonly tastingId: number; readonly cupId: number | null };

/** The table whose card stands at this message, or null when the thread is none of the bot's tables. */
export async function findTableThread(
  db: DbOrTransaction,
  workspace: string,
  channel: string,
  threadTs: string,
): Promise<TableThread | null> {
  const notice = await db
    .selectFrom('notice')
    .select('key')
    .where('workspace', '=', workspace)
    .where('channel', '=', channel)
    .where('ts', '=', threadTs)
    .where('kind', '=', sql.lit('message'))
    .executeTakeFirst();
  const [kind, id] = notice?.key.split(':') ?? [];
  if (kind === 'table') return { tastingId: Number(id), cupId: null };
  if (kind !== 'cup') return null;
  const cup = await db.selectFrom('cup').select('tasting_id').where('id', '=', Number(id)).executeTakeFirst();
  return cup ? { tastingId: cup.tasting_id, cupId: Number(id) } : null;
}
