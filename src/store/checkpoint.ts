import type { OpenDatabase } from './sqlite/open.js';

/** Pages of the write-ahead log at which SQLite makes a checkpoint by itself all the same (80 MB). */
const AT_THE_LATEST = 20_000;

/**
 * Leaves checkpoints to the caller. SQLite makes one in the middle of a commit, and whoever waits for that
 * commit waits for the disk several times as long; a quiet moment serves as well.
 */
export function checkpointByHand({ sqlite }: OpenDatabase): void {
  sqlite.pragma(`wal_autocheckpoint = ${AT_THE_LATEST}`);
}

/** Writes the write-ahead log back into the database file; never inside a transaction. */
export async function checkpoint({ db, sqlite }: OpenDatabase): Promise<void> {
  await db.connection().execute(async () => sqlite.pragma('wal_checkpoint(passive)'));
}
