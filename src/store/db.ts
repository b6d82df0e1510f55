import type { Kysely } from 'kysely';
import type { Tables } from './schema.js';

/** The database, or the transaction that the caller is in. */
export type Db = Kysely<Tables>;
