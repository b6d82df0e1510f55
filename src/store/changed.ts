import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';

/** Something whose notices may have to change: "tasting:4", "ask:7", "person:U1". */
export type Subject = { readonly workspace: string; readonly subject: string; readonly at: string };

const mark = prepared<Subject>()((db, given) =>
  db
    .insertInto('changed')
    .values({ workspace: given('workspace'), subject: given('subject'), at: given('at') })
    .onConflict((conflict) => conflict.columns(['workspace', 'subject']).doUpdateSet({ at: given('at') })),
);

/**
 * Remembers that the notices of a subject must be worked out again; call it in the transaction that changes
 * the state. Twice is the same as once.
 */
export async function markChanged(
  db: DbOrTransaction,
  workspace: string,
  subject: string,
  at: Date,
): Promise<void> {
  await mark(db, { workspace, subject, at: at.toISOString() });
}

const list = prepared<{ readonly limit: number }>()((db, given) =>
  db.selectFrom('changed').selectAll().orderBy('at').orderBy('subject').limit(given('limit')),
);

/** Subjects to work out again, the longest waiting first. */
export async function listChanged(db: DbOrTransaction, limit: number): Promise<readonly Subject[]> {
  return list(db, { limit });
}

const clear = prepared<Pick<Subject, 'workspace' | 'subject'>>()((db, given) =>
  db
    .deleteFrom('changed')
    .where('workspace', '=', given('workspace'))
    .where('subject', '=', given('subject')),
);

/** Takes a subject off the list; run it in the transaction that stores its notices. */
export async function clearChanged(db: DbOrTransaction, { workspace, subject }: Subject): Promise<void> {
  await clear(db, { workspace, subject });
}
