import { type Migration, sql } from 'kysely';
import { FIRST_TABLE } from './001-first-table.js';
import { LANES } from './002-lanes.js';
import { ROAST_DRUM } from './003-roast-drum.js';

function migration(statements: readonly string[]): Migration {
  return {
    async up(db) {
      for (const statement of statements) await sql.raw(statement).execute(db);
    },
  };
}

/** Every migration in order; the name is what the database remembers, so it never changes. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '001-first-table': migration(FIRST_TABLE),
  '002-lanes': migration(LANES),
  '003-roast-drum': migration(ROAST_DRUM),
};
