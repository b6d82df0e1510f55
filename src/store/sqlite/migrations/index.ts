import type { Migration } from 'kysely';
import { up as firstTable } from './001-first-table.js';
import { up as lanes } from './002-lanes.js';
import { up as roastDrum } from './003-roast-drum.js';

/** Every migration in order; the name is what the database remembers, so it never changes. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '001-first-table': { up: firstTable },
  '002-lanes': { up: lanes },
  '003-roast-drum': { up: roastDrum },
};
