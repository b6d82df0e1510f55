import { DEMO_COFFEES } from '../../../src/app/seed.js';
import { insertCoffee } from '../../../src/store/coffees.js';
import type { Db } from '../../../src/store/db.js';
import { insertLot } from '../../../src/store/shelf.js';

/** The longest names a coffee can have, all different. */
export function longName(index: number): string {
  return `&${'W'.repeat(75)} ${String(index).padStart(2, '0')}`;
}

/** Sixty coffees with the longest names, every second one with two lots on the shelf. */
export async function sixtyCoffees(db: Db): Promise<void> {
  const [demo] = DEMO_COFFEES;
  if (!demo) throw new Error('the demo has coffees');
  const by = { workspace: 'T1', who: 'U0INES', at: new Date('2026-11-25T09:00:00Z') };
  for (let index = 0; index < 60; index += 1) {
    const coffeeId = await insertCoffee(db, { ...demo, ...by, name: longName(index) });
    if (index % 2 === 1) continue;
    for (const roastedOn of ['2026-11-19', '2026-11-24']) {
      await insertLot(db, { ...by, coffeeId, mg: 412_300, roastedOn, bestBy: '2026-12-24', roastId: null });
    }
  }
}
