import type { DbOrTransaction } from './db.js';

/** The uploaded file for a drawing with this content hash, if there is one. */
export async function findPicture(
  db: DbOrTransaction,
  workspace: string,
  hash: string,
): Promise<string | null> {
  const row = await db
    .selectFrom('picture')
    .select('file_id')
    .where('workspace', '=', workspace)
    .where('hash', '=', hash)
    .executeTakeFirst();
  return row?.file_id ?? null;
}

/** Remembers which file shows a drawing, so that it is uploaded once. */
export async function keepPicture(
  db: DbOrTransaction,
  picture: {
    readonly workspace: string;
    readonly hash: string;
    readonly fileId: string;
    readonly at: Date;
  },
): Promise<void> {
  await db
    .insertInto('picture')
    .values({
      workspace: picture.workspace,
      hash: picture.hash,
      file_id: picture.fileId,
      created_at: picture.at.toISOString(),
    })
    .onConflict((conflict) => conflict.columns(['workspace', 'hash']).doNothing())
    .execute();
}
