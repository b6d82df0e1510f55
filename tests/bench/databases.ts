import { seedScenario } from '../../src/app/seed.js';
import { seededRandom } from '../../src/domain/stats/seeded-random.js';
import { systemClock } from '../../src/runtime/clock.js';
import { createLog } from '../../src/runtime/log.js';
import { openDatabase } from '../../src/store/sqlite/open.js';
import { fill, NOTES_A_TASTING } from './fill.js';
import { CHANNEL, HOST, ROASTER, WORKSPACE } from './parts.js';

/** A database of the demo's house with this many notes of decided tastings; the same for the same number. */
export async function makeDatabase(file: string, notes: number): Promise<void> {
  const open = await openDatabase(file);
  const deps = { db: open.db, clock: systemClock, log: createLog('error'), newSeed: () => 1 };
  const people = new Map([
    ['ines', HOST],
    ['bram', ROASTER],
  ]);
  await seedScenario(deps, WORKSPACE, people, CHANNEL);
  open.sqlite.pragma('synchronous = OFF');
  fill(open.sqlite, Math.round(notes / NOTES_A_TASTING), seededRandom(1));
  open.sqlite.pragma('wal_checkpoint(TRUNCATE)');
  await open.close();
}
