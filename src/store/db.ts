import type { Kysely, Transaction } from 'kysely';
import type { Tables } from './schema.js';

export type Db = Kysely<Tables>;
/** What store functions take: the database, or the transaction they are part of. */
export type DbOrTransaction = Db | Transaction<Tables>;
