import { sql } from 'kysely';
import type { DbOrTransaction } from '../db.js';

/**
 * Has the database file itself forget: what was overwritten still stands in the write-ahead log until it is
 * put into the file. Not possible inside a transaction.
 */
export async function forgetOnDisk(db: DbOrTransaction): Promise<void> {
  if (!db.isTransaction) await sql`pragma wal_checkpoint(truncate)`.execute(db);
}
