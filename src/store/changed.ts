import type { Db } from './db.js';

/** Something whose notices may have to change: "tasting:4", "ask:7", "person:U1". */
export type Subject = { readonly workspace: string; readonly subject: string; readonly at: string };

/**
 * Remembers that the notices of a subject must be worked out again; call it in the transaction that changes
 * the state. Twice is the same as once.
 */
export async function markChanged(db: Db, workspace: string, subject: string, at: Date): Promise<void> {
  const since = { at: at.toISOString() };
  await db
    .insertInto('changed')
    .values({ workspace, subject, ...since })
    .onConflict((conflict) => conflict.columns(['workspace', 'subject']).doUpdateSet(since))
    .execute();
}

/** Subjects to work out again, the longest waiting first. */
export async function listChanged(db: Db, limit: number): Promise<readonly Subject[]> {
  return db.selectFrom('changed').selectAll().orderBy('at').orderBy('subject').limit(limit).execute();
}

/** Takes a subject off the list; run it in the transaction that stores its notices. */
export async function clearChanged(db: Db, { workspace, subject }: Subject): Promise<void> {
  await db.deleteFrom('changed').where('workspace', '=', workspace).where('subject', '=', subject).execute();
}
