import type { Clock } from '../clock.js';
import type { Log } from '../log.js';
import type { Db } from '../store/db.js';

/** What a command may touch, and nothing else. */
export type Deps = {
  readonly db: Db;
  readonly clock: Clock;
  readonly log: Log;
  /** A new seed for codes and orders, 32 bits; the only source of randomness. */
  readonly newSeed: () => number;
};
