import { pino } from 'pino';
import type { Deps } from '../../../src/commands/common/bot.js';
import type { Db } from '../../../src/store/db.js';

/** What commands may touch, with the clock standing at one instant. */
export function depsAt(db: Db, now: string): Deps {
  return {
    db,
    clock: { now: () => new Date(now), onMove: () => () => {} },
    log: pino({ level: 'silent' }),
    newSeed: () => 1,
  };
}
