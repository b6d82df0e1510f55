import { z } from 'zod';
import type { DbOrTransaction } from './db.js';

const StoredMessage = z.object({
  text: z.string(),
  blocks: z.array(z.looseObject({ type: z.string() })),
  picture: z.object({ drawing: z.unknown(), altText: z.string(), title: z.string() }).optional(),
});
/** A digest as it was posted: text, blocks and what its picture is drawn from. */
export type StoredMessage = z.output<typeof StoredMessage>;

/** Keeps the digest as posted, in place of an earlier one of the same tasting. */
export async function keepDigest(
  db: DbOrTransaction,
  digest: {
    readonly workspace: string;
    readonly tastingId: number;
    readonly message: unknown;
    readonly at: Date;
    readonly by: string;
  },
): Promise<void> {
  const values = {
    message_json: JSON.stringify(digest.message),
    posted_at: digest.at.toISOString(),
    posted_by: digest.by,
  };
  await db
    .insertInto('digest')
    .values({ tasting_id: digest.tastingId, workspace: digest.workspace, ...values })
    .onConflict((conflict) => conflict.column('tasting_id').doUpdateSet(values))
    .execute();
}

/** The digest of a tasting as posted, or null before it is. */
export async function findDigest(db: DbOrTransaction, tastingId: number): Promise<StoredMessage | null> {
  const row = await db
    .selectFrom('digest')
    .select('message_json')
    .where('tasting_id', '=', tastingId)
    .executeTakeFirst();
  return row ? StoredMessage.parse(JSON.parse(row.message_json)) : null;
}
