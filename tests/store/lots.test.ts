import fc from 'fast-check';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { seedScenario } from '../../src/app/seed.js';
import { listCoffees } from '../../src/store/coffees.js';
import { listRecipes } from '../../src/store/recipes.js';
import { insertLot, listLots, listReservations, setLotLeft, setReservations } from '../../src/store/shelf.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';
import { insertTasting } from '../../src/store/tastings.js';
import { depsAt } from '../commands/common/deps-at.js';

const AT = new Date('2026-11-25T09:00:00Z');

let open: OpenDatabase;
beforeEach(async () => {
  open = await openDatabase(':memory:');
  await seedScenario(depsAt(open.db, AT.toISOString()), 'T1', new Map(), 'C1');
});
afterEach(() => open.close());

async function book(number: number): Promise<number> {
  const [blend] = await listRecipes(open.db, 'T1');
  return insertTasting(
    open.db,
    {
      workspace: 'T1',
      number,
      recipe_version_id: blend?.versionId ?? 0,
      channel: 'C1',
      host: 'U0INES',
      starts_at: '2026-12-04T14:00:00.000Z',
      state: 'booked',
      blind: 0,
      format: 'cupping',
      tables: 1,
      seed: 1,
      brief: null,
      batch_mg: null,
      opened_at: null,
      closed_at: null,
      decided_at: null,
      winner_cup_id: null,
      decided_rule: null,
      signed_off_by: null,
      created_at: AT.toISOString(),
      created_by: 'U0INES',
    },
    [],
  );
}

async function lot(mg: number): Promise<number> {
  const [chirinos] = await listCoffees(open.db, 'T1');
  const coffeeId = chirinos?.id ?? 0;
  const roasted = { roastedOn: '2026-11-24', bestBy: null, roastId: null };
  return insertLot(open.db, { ...roasted, workspace: 'T1', coffeeId, mg, who: 'U0BRAM', at: AT });
}

test('a lot that is used up leaves the shelf', async () => {
  const id = await lot(400_000);
  await setLotLeft(open.db, 'T1', id, 0, AT);
  expect((await listLots(open.db, 'T1')).map((left) => left.id)).not.toContain(id);
});

test('the lots of one coffee come oldest roast first', async () => {
  const [, kayanza] = await listCoffees(open.db, 'T1');
  const older = {
    coffeeId: kayanza?.id ?? 0,
    mg: 1000,
    roastedOn: '2026-11-10',
    bestBy: null,
    roastId: null,
  };
  const id = await insertLot(open.db, { ...older, workspace: 'T1', who: 'U0BRAM', at: AT });
  const lots = await listLots(open.db, 'T1');
  expect(lots.find(({ coffeeId }) => coffeeId === kayanza?.id)?.id).toBe(id);
});

test('when a lot shrinks, the tasting that reserved last loses first', async () => {
  const [first, second] = [await book(1), await book(2)];
  const id = await lot(400_000);
  await setReservations(open.db, 'T1', first, new Map([[id, 250_000]]), AT);
  await setReservations(open.db, 'T1', second, new Map([[id, 150_000]]), AT);
  expect(await setLotLeft(open.db, 'T1', id, 300_000, AT)).toEqual([{ tastingId: second, lostMg: 100_000 }]);
  expect(await setLotLeft(open.db, 'T1', id, 200_000, AT)).toEqual([
    { tastingId: first, lostMg: 50_000 },
    { tastingId: second, lostMg: 50_000 },
  ]);
  expect(await listReservations(open.db, 'T1')).toEqual([{ tastingId: first, lotId: id, mg: 200_000 }]);
});

test('whatever is taken, reservations never exceed the lot', async () => {
  const tastings = [await book(1), await book(2), await book(3)];
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.integer({ min: 1, max: 200_000 }), { minLength: 3, maxLength: 3 }),
      fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 4 }),
      async (wanted, shares) => {
        let left = wanted.reduce((sum, mg) => sum + mg, 0);
        const id = await lot(left);
        for (const [index, tasting] of tastings.entries()) {
          await setReservations(open.db, 'T1', tasting, new Map([[id, wanted[index] ?? 0]]), AT);
        }
        for (const share of shares) {
          left = Math.floor(left * share);
          await setLotLeft(open.db, 'T1', id, left, AT);
          const held = (await listReservations(open.db, 'T1')).filter((row) => row.lotId === id);
          expect(held.reduce((sum, row) => sum + row.mg, 0)).toBe(left);
        }
      },
    ),
    { numRuns: 40 },
  );
});
