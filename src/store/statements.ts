import type Database from 'better-sqlite3';
import type { SqliteDatabase, SqliteStatement } from 'kysely';

/** Enough for every query of the bot; lists of ids of any length make new texts, so the oldest go. */
const KEPT = 500;

/** The connection as kysely uses it, preparing each text once: preparing costs more than most queries do. */
export function rememberingStatements(sqlite: Database.Database): SqliteDatabase {
  const statements = new Map<string, SqliteStatement>();
  return {
    close: () => sqlite.close(),
    prepare(text) {
      const known = statements.get(text);
      if (known) return known;
      const statement = sqlite.prepare<readonly unknown[]>(text);
      statements.set(text, statement);
      const oldest = statements.keys().next();
      if (statements.size > KEPT && !oldest.done) statements.delete(oldest.value);
      return statement;
    },
  };
}
