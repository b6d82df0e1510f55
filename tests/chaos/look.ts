import Database from 'better-sqlite3';
import { z } from 'zod';

/*
 * A look into a database file from outside, in plain SQL: what checks the bot must not share its queries.
 * Opened for each look and closed again, so that a killed bot's file is found by the next one as it was left.
 */

type Value = string | number | null;

/** What a query finds, each row checked; nothing when the file or its tables are not there yet. */
export function look<T>(file: string, row: z.ZodType<T>, sql: string, ...values: readonly Value[]): T[] {
  let db: Database.Database | undefined;
  try {
    db = new Database(file, { readonly: true, fileMustExist: true, timeout: 5_000 });
    return z.array(row).parse(db.prepare(sql).all(...values));
  } catch (error) {
    if (error instanceof Error && /no such table|unable to open/.test(error.message)) return [];
    throw error;
  } finally {
    db?.close();
  }
}

const Count = z.object({ n: z.number() });

/** How many rows a query finds. */
export function count(file: string, sql: string, ...values: readonly Value[]): number {
  return look(file, Count, `select count(*) as n from (${sql})`, ...values)[0]?.n ?? 0;
}
