import { type Kysely, sql } from 'kysely';
import type { Tables } from './schema.js';

/** The database, or the transaction that the caller is in. */
export type Db = Kysely<Tables>;

/**
 * Runs `work` as one unit: a transaction of its own, or, inside somebody's transaction, a savepoint, so
 * that a refusal half-way leaves nothing behind.
 */
export async function inTransaction<T>(db: Db, work: (trx: Db) => Promise<T>): Promise<T> {
  if (!db.isTransaction) return db.transaction().execute(work);
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
