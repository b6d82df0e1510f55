import { z } from 'zod';
import type { DbOrTransaction } from './db.js';

const Detail = z.looseObject({ remarks: z.string().nullable().catch(null).default(null) });

/** The word of their own that the host added when deciding a tasting, or null. */
export async function decidedRemarks(db: DbOrTransaction, tastingId: number): Promise<string | null> {
  const row = await db
    .selectFrom('tasting_change')
    .select('detail_json')
    .where('tasting_id', '=', tastingId)
    .where('change', '=', 'decided')
    .orderBy('id', 'desc')
    .executeTakeFirst();
  return row ? Detail.parse(JSON.parse(row.detail_json)).remarks : null;
}
