import Sqlite from 'better-sqlite3';
import { z } from 'zod';
import { parsedJson } from '../json.js';
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

/** All rows of a query through their schema, which names `thread_ts` as `threadTs`. */
export function rows<T extends z.ZodType>(
  db: Db,
  shape: T,
  text: string,
  ...values: readonly unknown[]
): z.output<T>[] {
  return prepared(db, text)
    .all(...values)
    .map((one) => shape.parse(camelCased(one)));
}

/** The first row of a query through its schema, which is optional where there may be none. */
export function row<T extends z.ZodType>(
  db: Db,
  shape: T,
  text: string,
  ...values: readonly unknown[]
): z.output<T> {
  return shape.parse(camelCased(prepared(db, text).get(...values)));
}

/** Writes one row; the row that has the same `key` already is changed instead. */
export function save(
  db: Db,
  table: string,
  key: readonly string[],
  values: Readonly<Record<string, unknown>>,
): void {
  const columns = Object.keys(values).map((name) =>
    name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`),
  );
  const changes = columns.map((column) => `${column} = excluded.${column}`);
  run(
    db,
    `insert into ${table} (${columns.join()}) values (${columns.map(() => '?').join()})
      on conflict (${key.join()}) do update set ${changes.join()}`,
    ...Object.values(values).map(columnValue),
  );
}

function columnValue(value: unknown): unknown {
  if (typeof value === 'boolean') return value ? 1 : 0;
  if (value === undefined || value === null) return null;
  return typeof value === 'object' ? JSON.stringify(value) : value;
}

function camelCased(found: unknown): unknown {
  if (typeof found !== 'object' || found === null) return found;
  return Object.fromEntries(
    Object.entries(found).map(([column, value]) => [
      column.replace(/_([a-z])/g, (_all, letter: string) => letter.toUpperCase()),
      value,
    ]),
  );
}

/** A column that is 1 or 0. */
export const flag = z.number().transform((value) => value === 1);

/** A text column that holds JSON of the given shape. */
export function storedJson<T extends z.ZodType>(inner: T) {
  return z
    .string()
    .transform((text) => parsedJson(text, z.unknown()))
    .pipe(inner);
}

const Fact = z.object({ value: z.string() }).optional();

/** One kept fact (an id, a secret, the clock's offset), or nothing. */
export function readFact(db: Db, key: string): string | undefined {
  return row(db, Fact, 'select value from fact where key = ?', key)?.value;
}

export function writeFact(db: Db, key: string, value: string): void {
  save(db, 'fact', ['key'], { key, value });
}
