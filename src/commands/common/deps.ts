import type { Clock } from '../../runtime/clock.js';
import type { Log } from '../../runtime/log.js';
import type { DbOrTransaction } from '../../store/db.js';

/** What a command may touch, and nothing else. */
export type Deps = {
  /** The database, or the transaction that the caller is in. */
  readonly db: DbOrTransaction;
  readonly clock: Clock;
  readonly log: Log;
  /** A new seed for codes and orders, 32 bits; the only source of randomness. */
  readonly newSeed: () => number;
};
