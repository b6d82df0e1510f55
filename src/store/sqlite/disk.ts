import { sql } from 'kysely';
import type { Db } from '../db.js';
import type { OpenDatabase } from './open.js';

/**
 * Has the database file itself forget: what was overwritten still stands in the write-ahead log until it is
 * put into the file. Not possible inside a transaction.
 */
export async function forgetOnDisk(db: Db): Promise<void> {
  if (!db.isTransaction) await sql`pragma wal_checkpoint(truncate)`.execute(db);
}

/** Runs `work` in one transaction that need not survive a power cut. */
export type RelaxedTransaction = <T>(work: (trx: Db) => Promise<T>) => Promise<T>;

/**
 * A transaction for what would be done again from what is durable: handling a stored event, working out notices,
 * noting that one is shown. It survives the process, and only a power cut may undo it, together with everything
 * after it. Nobody waits for the disk but those whose work is acknowledged, and they do not wait for the others.
 */
export function createRelaxedTransaction({ db, sqlite }: OpenDatabase): RelaxedTransaction {
  return (work) =>
    db.connection().execute(async (connection) => {
      sqlite.pragma('synchronous = NORMAL');
      try {
        return await connection.transaction().execute(work);
      } finally {
        sqlite.pragma('synchronous = FULL');
      }
    });
}
