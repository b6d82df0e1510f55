import { sql } from 'kysely';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';

/** A thread of one of the bot's own tables; `cupId` is null under the table card itself. */
export type TableThread = { readonly tastingId: number; readonly cupId: number | null };

type Place = { readonly workspace: string; readonly channel: string; readonly ts: string };

const cardAt = prepared<Place>()((db, given) =>
  db
    .selectFrom('notice')
    .select('key')
    .where('workspace', '=', given('workspace'))
    .where('channel', '=', given('channel'))
    .where('ts', '=', given('ts'))
    .where('kind', '=', sql.lit('message')),
);

const tableOfCup = prepared<{ readonly id: number }>()((db, given) =>
  db.selectFrom('cup').select('tasting_id').where('id', '=', given('id')),
);

/** The table whose card stands at this message, or null when the thread is none of the bot's tables. */
export async function findTableThread(
  db: DbOrTransaction,
  workspace: string,
  channel: string,
  threadTs: string,
): Promise<TableThread | null> {
  const [card] = await cardAt(db, { workspace, channel, ts: threadTs });
  const [kind, number] = card?.key.split(':') ?? [];
  const id = Number(number);
  if (kind === 'table') return { tastingId: id, cupId: null };
  if (kind !== 'cup') return null;
  const [cup] = await tableOfCup(db, { id });
  return cup ? { tastingId: cup.tasting_id, cupId: id } : null;
}
