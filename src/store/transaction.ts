import { sql, type Transaction } from 'kysely';
import type { DbOrTransaction, OpenDatabase } from './db.js';
import type { Tables } from './schema.js';

/**
 * Runs `work` as one unit: a transaction of its own, or, inside somebody's transaction, a savepoint, so
 * that a refusal half-way leaves nothing behind.
 */
export async function inTransaction<T>(
  db: DbOrTransaction,
  work: (trx: Transaction<Tables>) => Promise<T>,
): Promise<T> {
  if (!isTransaction(db)) return db.transaction().execute(work);
  await sql`savepoint inner_unit`.execute(db);
  try {
    const result = await work(db);
    await sql`release inner_unit`.execute(db);
    return result;
  } catch (error) {
    await sql`rollback to inner_unit`.execute(db);
    await sql`release inner_unit`.execute(db);
    throw error;
  }
}

function isTransaction(db: DbOrTransaction): db is Transaction<Tables> {
  return db.isTransaction;
}

/** Runs `work` in one transaction that need not survive a power cut. */
export type RelaxedTransaction = <T>(work: (trx: DbOrTransaction) => Promise<T>) => Promise<T>;

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
