import Database from 'better-sqlite3';
import { Kysely, Migrator, SqliteAdapter, SqliteDialect, sql } from 'kysely';
import type { Db } from '../db.js';
import type { Tables } from '../schema.js';
import { MIGRATIONS } from './migrations/index.js';
import { DatabaseProblem, damagedDatabase, explainDatabaseError } from './problems.js';

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

export type OpenDatabase = { readonly db: Db; readonly sqlite: Database.Database; close(): Promise<void> };

/**
 * Opens the database file (or ':memory:'), checks that it is whole, sets it up for durable commits and brings
 * its schema up to date.
 *
 * @throws DatabaseProblem when the file cannot be opened, is not a database or not ours, is damaged, is of a
 *   newer schema, cannot be written or the disk is full; the migration's own error when one fails (nothing of it stays)
 */
export async function openDatabase(file: string): Promise<OpenDatabase> {
  let sqlite: Database.Database | undefined;
  try {
    sqlite = new Database(file, { timeout: 5000 });
    return await setUp(sqlite, file);
  } catch (error) {
    sqlite?.close();
    throw explainDatabaseError(error, file);
  }
}

async function setUp(sqlite: Database.Database, file: string): Promise<OpenDatabase> {
  refuseForeign(sqlite, file);
  // A read-only file opens all the same; better to hear of it now than with the first note.
  tryToWrite(sqlite);
  sqlite.pragma('journal_mode = WAL');
  // An event is acknowledged after its commit, so the commit must survive a power cut.
  sqlite.pragma('synchronous = FULL');
  // Tables at work fit into this many KiB; pages beyond it come from the system's own cache as quickly.
  sqlite.pragma('cache_size = -8000');
  // What people take back or erase is overwritten in the file, not only unlinked.
  sqlite.pragma('secure_delete = ON');
  // A table that a migration rebuilds must not take its children with it.
  sqlite.pragma('foreign_keys = OFF');
  const damage = sqlite.pragma('quick_check(1)', { simple: true });
  if (damage !== 'ok') throw damagedDatabase(file, String(damage));
  const db: Db = new Kysely<Tables>({ dialect: new TransactionalDialect({ database: sqlite }) });
  await migrate(db);
  sqlite.pragma('foreign_keys = ON');
  return { db, sqlite, close: () => db.destroy() };
}

/**
 * Writes something that changes nothing, into the file and not only into memory.
 *
 * @throws SQLite's own error when the file takes no writes
 */
export function tryToWrite(sqlite: Database.Database): void {
  // A transaction alone tells nothing: on a read-only file SQLite makes it a reading one.
  const version = Number(sqlite.pragma('user_version', { simple: true }));
  sqlite.pragma(`user_version = ${version}`);
}

/** A newer schema would be misread by this code, and another program's file is not ours to add tables to. */
function refuseForeign(sqlite: Database.Database, file: string): void {
  const tables = sqlite.prepare("select name from sqlite_schema where type = 'table'").pluck().all();
  if (tables.length === 0) return;
  if (!tables.includes('kysely_migration')) {
    throw new DatabaseProblem(
      `${file} is a database of something else. Set DATABASE to a file of its own for Tallyspoon.`,
    );
  }
  const done = sqlite.prepare<[], string>('select name from kysely_migration order by name').pluck().all();
  const unknown = done.find((name) => !Object.hasOwn(MIGRATIONS, name));
  if (unknown !== undefined) {
    throw new DatabaseProblem(
      `The database ${file} was written by a newer Tallyspoon (${unknown}). Update Tallyspoon, or restore a backup made before the update.`,
    );
  }
}

async function migrate(db: Db): Promise<void> {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } });
  const { error } = await migrator.migrateToLatest();
  if (error) throw error;
}

/**
 * Holds a database file for this process alone, through a small lock database beside it: the operating
 * system lets go of it when the process ends in whatever way, and backups may still read the real file.
 *
 * @throws DatabaseProblem when another process holds it
 */
export function lockDatabase(file: string): { release(): void } {
  if (file === ':memory:') return { release: () => {} };
  let lock: Database.Database | undefined;
  try {
    lock = new Database(`${file}.lock`, { timeout: 0 });
    lock.exec('begin exclusive');
  } catch (error) {
    lock?.close();
    throw explainDatabaseError(error, file);
  }
  const held = lock;
  return { release: () => held.close() };
}

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
