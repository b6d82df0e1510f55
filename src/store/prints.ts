import { z } from 'zod';
import type { DbOrTransaction } from './db.js';
import { updateTasting } from './tastings.js';

const Detail = z.object({ hash: z.string(), to: z.enum(['host', 'thread']), content: z.unknown() });

/** A table sheet as somebody asked for it to be printed; `content` is what it is drawn from. */
export type Print = z.output<typeof Detail> & { readonly id: number };

/** Keeps what was printed of a tasting, for whom and when. */
export async function recordPrint(
  db: DbOrTransaction,
  tasting: { readonly id: number; readonly workspace: string },
  print: Omit<Print, 'id'>,
  by: { readonly who: string; readonly at: Date },
): Promise<void> {
  await updateTasting(db, tasting, {}, { ...by, change: 'printed', detail: print });
}

/** The latest print of a tasting, of this content when its hash is given; null when there is none. */
export async function latestPrint(
  db: DbOrTransaction,
  tastingId: number,
  hash: string | null = null,
): Promise<Print | null> {
  const rows = await db
    .selectFrom('tasting_change')
    .select(['id', 'detail_json'])
    .where('tasting_id', '=', tastingId)
    .where('change', '=', 'printed')
    .orderBy('id', 'desc')
    .execute();
  for (const row of rows) {
    const print = Detail.parse(JSON.parse(row.detail_json));
    if (hash === null || print.hash === hash) return { id: row.id, ...print };
  }
  return null;
}
