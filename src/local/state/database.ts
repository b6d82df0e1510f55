import Sqlite from 'better-sqlite3';
import { schema } from './schema.js';

/** The workspace's database: every change is one synchronous transaction. */
export type Db = Sqlite.Database;

/** Opens the file (or ":memory:") and makes the tables that are missing. */
export function openDatabase(file: string): Db {
  const db = new Sqlite(file);
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = NORMAL');
  db.pragma('foreign_keys = ON');
  db.pragma('busy_timeout = 5000');
  db.exec(schema);
  return db;
}

const statements = new WeakMap<Db, Map<string, Sqlite.Statement<unknown[], unknown>>>();

/** A prepared statement, kept per database. */
function prepared(db: Db, text: string): Sqlite.Statement<unknown[], unknown> {
  const known = statements.get(db) ?? new Map<string, Sqlite.Statement<unknown[], unknown>>();
  statements.set(db, known);
  const found = known.get(text) ?? db.prepare(text);
  known.set(text, found);
  return found;
}

/** Runs a statement that changes rows; answers how many. */
export function run(db: Db, text: string, ...values: readonly unknown[]): number {
  return prepared(db, text).run(...values).changes;
}

/** All rows of a query, unchecked: the caller passes them through its row schema. */
export function rows(db: Db, text: string, ...values: readonly unknown[]): readonly unknown[] {
  return prepared(db, text).all(...values);
}

/** The first row of a query, unchecked, or nothing. */
export function row(db: Db, text: string, ...values: readonly unknown[]): unknown {
  return prepared(db, text).get(...values);
}
