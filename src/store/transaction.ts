import { sql, type Transaction } from 'kysely';
import type { Db } from './db.js';
import type { Tables } from './schema.js';

/**
 * Runs `work` as one unit: a transaction of its own, or, inside somebody's transaction, a savepoint, so
 * that a refusal half-way leaves nothing behind.
 */
export async function inTransaction<T>(db: Db, work: (trx: Transaction<Tables>) => Promise<T>): Promise<T> {
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

function isTransaction(db: Db): db is Transaction<Tables> {
  return db.isTransaction;
}
