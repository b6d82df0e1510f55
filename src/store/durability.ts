import type { DbOrTransaction } from './db.js';
import type { OpenDatabase } from './sqlite/open.js';

/**
 * Who has to wait for the disk. Everything commits durably, except what would be done again from what is
 * durable: handling a stored event, working out notices, noting that one is shown. Such a commit survives
 * the process, and only a power cut may undo it, together with everything after it.
 */
export type Durability = {
  /** One transaction that need not survive a power cut. */
  relaxed<T>(work: (db: DbOrTransaction) => Promise<T>): Promise<T>;
  /** Runs a commit that is made at once, outside the queue for the connection; it is durable all the same. */
  fully<T>(commit: () => T): T;
};

export function createDurability({ db, sqlite }: OpenDatabase): Durability {
  let isRelaxed = false;
  const set = (relaxed: boolean) => {
    sqlite.pragma(`synchronous = ${relaxed ? 'NORMAL' : 'FULL'}`);
    isRelaxed = relaxed;
  };
  return {
    relaxed: (work) =>
      db.connection().execute(async (connection) => {
        set(true);
        try {
          return await connection.transaction().execute(work);
        } finally {
          set(false);
        }
      }),
    fully(commit) {
      if (!isRelaxed) return commit();
      set(false);
      try {
        return commit();
      } finally {
        set(true);
      }
    },
  };
}
