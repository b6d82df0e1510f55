import Database from 'better-sqlite3';
import { Kysely, Migrator, SqliteAdapter, SqliteDialect, type Transaction } from 'kysely';
import { MIGRATIONS } from './migrations/index.js';
import type { Tables } from './schema.js';

export type Db = Kysely<Tables>;
/** What store functions take: the database, or the transaction they are part of. */
export type DbOrTransaction = Db | Transaction<Tables>;

/** kysely leaves SQLite migrations outside a transaction; SQLite can roll DDL back, so half a migration never stays. */
class TransactionalAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

class TransactionalDialect extends SqliteDialect {
  override createAdapter(): SqliteAdapter {
    return new TransactionalAdapter();
  }
}

/**
 * Runs work in one transaction: its own, or the one the caller is already in (several events are handled in
 * one transaction, so everything that may be called for an event must open its transaction through this).
 */
export async function inTransaction<T>(
  db: DbOrTransaction,
  work: (transaction: DbOrTransaction) => Promise<T>,
): Promise<T> {
  return db.isTransaction ? work(db) : db.transaction().execute(work);
}

export type OpenDatabase = { readonly db: Db; readonly sqlite: Database.Database; close(): Promise<void> };

/**
 * Opens the database file (or ':memory:'), sets it up for durable commits and brings its schema up to date.
 *
 * @throws when the file cannot be opened, is not a database, or a migration fails (nothing of it stays)
 */
export async function openDatabase(file: string): Promise<OpenDatabase> {
  const sqlite = new Database(file, { timeout: 5000 });
  sqlite.pragma('journal_mode = WAL');
  // An event is acknowledged after its commit, so the commit must survive a power cut.
  sqlite.pragma('synchronous = FULL');
  // A table that a migration rebuilds must not take its children with it.
  sqlite.pragma('foreign_keys = OFF');
  const db: Db = new Kysely<Tables>({ dialect: new TransactionalDialect({ database: sqlite }) });
  await migrate(db);
  sqlite.pragma('foreign_keys = ON');
  return { db, sqlite, close: () => db.destroy() };
}

async function migrate(db: Db): Promise<void> {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } });
  const { error } = await migrator.migrateToLatest();
  if (error) throw error instanceof Error ? error : new Error(String(error));
}
