import fc from 'fast-check';
import { afterEach, expect, test } from 'vitest';
import { type HostClaim, type RoastedFor, shareShelf } from '../../src/domain/roast/shelf.js';
import { listReservations } from '../../src/store/lots.js';
import { setReservations, useReserved } from '../../src/store/reservations.js';
import { type House, house, INES, WORKSPACE } from '../commands/roasting/ask-house.js';

let shop: House | undefined;
afterEach(async () => shop?.close());

const NOW = new Date('2026-11-24T09:00:00Z');

test('holding the same again keeps its place, and what is left out is released', async () => {
  shop = await house(NOW.toISOString());
  await shop.book('2026-12-04T14:00:00Z');
  const [first, second] = await listReservations(shop.db, WORKSPACE);
  const same = new Map([
    [first?.lotId ?? 0, first?.mg ?? 0],
    [second?.lotId ?? 0, second?.mg ?? 0],
  ]);
  expect(await setReservations(shop.db, WORKSPACE, 1, same, NOW)).toBe(false);
  expect(await setReservations(shop.db, WORKSPACE, 1, new Map([[second?.lotId ?? 0, 5000]]), NOW)).toBe(true);
  expect(await listReservations(shop.db, WORKSPACE)).toEqual([
    { tastingId: 1, lotId: second?.lotId, mg: 5000 },
  ]);
});

test('a table that used more than it held takes no more than that off the shelf', async () => {
  shop = await house(NOW.toISOString());
  await shop.book('2026-12-04T14:00:00Z');
  const kayanza = shop.coffee('Kayanza Hill').id;
  const before = await listReservations(shop.db, WORKSPACE);
  const taken = await useReserved(shop.db, WORKSPACE, 1, new Map([[kayanza, 9_000_000]]), NOW);
  expect([...taken.values()]).toEqual([before[0]?.mg]);
  const lots = await shop.db.selectFrom('lot').select(['coffee_id', 'mg']).orderBy('id').execute();
  expect(lots.map((lot) => lot.mg)).toEqual([600_000 - (before[0]?.mg ?? 0), 600_000]);
});

const lot = fc.record({
  coffeeId: fc.constantFrom(1, 2),
  mg: fc.integer({ min: 0, max: 900_000 }),
  day: fc.integer({ min: 10, max: 28 }),
});
const claim = fc.record({
  coffeeId: fc.constantFrom(1, 2),
  mg: fc.integer({ min: 1, max: 500_000 }),
  day: fc.integer({ min: 15, max: 30 }),
  host: fc.constantFrom(INES, 'U0NOOR'),
});

test('shared out, no lot gives more than it holds, no table gets more than it wants, and all of it adds up', () => {
  fc.assert(
    fc.property(
      fc.array(lot, { maxLength: 5 }),
      fc.array(claim, { maxLength: 6 }),
      fc.nat(400_000),
      (lotFacts, claimFacts, freeMg) => {
        const lots = lotFacts.map((facts, index) => ({
          ...{ id: index + 1, coffeeId: facts.coffeeId, mg: facts.mg },
          ...{ roastedOn: `2026-11-${facts.day}`, bestBy: null },
        }));
        const claims: HostClaim[] = claimFacts.map((facts, index) => ({
          ...{ tastingId: index + 1, coffeeId: facts.coffeeId, mg: facts.mg, host: facts.host },
          ...{ bookedAt: NOW, tableDay: `2026-11-${facts.day}`, rest: { minDays: 1, maxDays: 10 } },
        }));
        const forWhom: RoastedFor = { tables: new Map([[2, 50_000]]), people: new Map([[INES, freeMg]]) };
        const plan = shareShelf(lots, claims, new Map([[1, forWhom]]));
        for (const one of lots) {
          const given = plan.reserved.filter((row) => row.lotId === one.id);
          expect(given.reduce((sum, row) => sum + row.mg, 0)).toBeLessThanOrEqual(one.mg);
        }
        for (const wanted of claims) {
          const got = plan.reserved.filter((row) => row.tastingId === wanted.tastingId);
          const short = plan.short.find((row) => row.tastingId === wanted.tastingId)?.mg ?? 0;
          expect(got.reduce((sum, row) => sum + row.mg, 0) + short).toBe(wanted.mg);
        }
      },
    ),
    { numRuns: 200 },
  );
});
