import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  allotShelf,
  type Claim,
  type HostClaim,
  planShelf,
  type RoastedFor,
  restState,
} from '../../../src/domain/roast/shelf.js';

const REST = { minDays: 1, maxDays: 14 };

function claim(
  tastingId: number,
  bookedAt: string,
  mg: number,
  tableDay = '2026-11-27',
  coffeeId = 1,
): Claim {
  return { tastingId, bookedAt: new Date(`${bookedAt}T09:00:00Z`), coffeeId, mg, tableDay, rest: REST };
}

function lot(id: number, mg: number, roastedOn: string, bestBy: string | null = null, coffeeId = 1) {
  return { id, coffeeId, mg, roastedOn, bestBy };
}

describe('the shelf', () => {
  test('serves whoever booked first, and the other goes short by what is missing', () => {
    const lots = [lot(1, 300_000, '2026-11-24')];
    const plan = planShelf(lots, [claim(2, '2026-11-20', 200_000), claim(1, '2026-11-21', 200_000)]);
    expect(plan).toEqual({
      reserved: [
        { tastingId: 2, lotId: 1, mg: 200_000 },
        { tastingId: 1, lotId: 1, mg: 100_000 },
      ],
      short: [{ tastingId: 1, coffeeId: 1, mg: 100_000 }],
    });
  });

  test('gives the oldest good lot first, and none that is resting, past or best-by', () => {
    const lots = [
      lot(1, 100_000, '2026-11-26'),
      lot(2, 100_000, '2026-11-20'),
      lot(3, 100_000, '2026-11-27'),
      lot(4, 100_000, '2026-11-01'),
      lot(5, 100_000, '2026-11-22', '2026-11-26'),
    ];
    expect(planShelf(lots, [claim(1, '2026-11-20', 250_000)])).toEqual({
      reserved: [
        { tastingId: 1, lotId: 2, mg: 100_000 },
        { tastingId: 1, lotId: 1, mg: 100_000 },
      ],
      short: [{ tastingId: 1, coffeeId: 1, mg: 50_000 }],
    });
  });

  test('knows the state of a lot day by day', () => {
    const roasted = { roastedOn: '2026-11-24', bestBy: null };
    const rest = { minDays: 4, maxDays: 10 };
    expect(restState(roasted, rest, '2026-11-27')).toBe('resting');
    expect(restState(roasted, rest, '2026-11-28')).toBe('good');
    expect(restState(roasted, rest, '2026-12-04')).toBe('good');
    expect(restState(roasted, rest, '2026-12-05')).toBe('past');
    expect(restState({ ...roasted, bestBy: '2026-11-30' }, rest, '2026-12-01')).toBe('past');
  });
});

const days = fc.integer({ min: 1, max: 28 }).map((day) => `2026-11-${String(day).padStart(2, '0')}`);
const lots = fc
  .array(
    fc.record({
      mg: fc.integer({ min: 0, max: 500_000 }),
      roastedOn: days,
      coffeeId: fc.integer({ min: 1, max: 3 }),
    }),
    { maxLength: 6 },
  )
  .map((list) => list.map((entry, index) => ({ ...entry, id: index + 1, bestBy: null })));
const claims = fc
  .array(fc.tuple(days, fc.integer({ min: 1, max: 400_000 }), days, fc.integer({ min: 1, max: 3 })), {
    maxLength: 8,
  })
  .map((list) => list.map(([booked, mg, day, coffee], index) => claim(index + 1, booked, mg, day, coffee)));

describe('whatever is booked', () => {
  test('reservations never exceed a lot, and with what is short they add up to every claim', () => {
    fc.assert(
      fc.property(lots, claims, (shelf, wanted) => {
        const plan = planShelf(shelf, wanted);
        for (const { id, mg } of shelf) {
          const taken = plan.reserved
            .filter((entry) => entry.lotId === id)
            .reduce((sum, entry) => sum + entry.mg, 0);
          expect(taken).toBeLessThanOrEqual(mg);
        }
        for (const { tastingId, mg } of wanted) {
          const got = [...plan.reserved, ...plan.short].filter((entry) => entry.tastingId === tastingId);
          expect(got.reduce((sum, entry) => sum + entry.mg, 0)).toBe(mg);
        }
      }),
    );
  });

  test('the plan does not depend on the order in which lots and claims are listed', () => {
    fc.assert(
      fc.property(lots, claims, (shelf, wanted) => {
        expect(planShelf([...shelf].reverse(), [...wanted].reverse())).toEqual(planShelf(shelf, wanted));
      }),
    );
  });

  test('moving a tasting twice is the same as moving it once', () => {
    const move = (list: readonly Claim[], tastingId: number, tableDay: string) =>
      list.map((entry) => (entry.tastingId === tastingId ? { ...entry, tableDay } : entry));
    fc.assert(
      fc.property(lots, claims, days, days, (shelf, wanted, first, last) => {
        expect(planShelf(shelf, move(move(wanted, 1, first), 1, last))).toEqual(
          planShelf(shelf, move(wanted, 1, last)),
        );
      }),
    );
  });

  test('a tasting that is cancelled gives back what it held', () => {
    fc.assert(
      fc.property(lots, claims, (shelf, wanted) => {
        const others = wanted.filter((entry) => entry.tastingId !== 1);
        const shortOf = (list: readonly Claim[]) =>
          planShelf(shelf, list)
            .short.filter((entry) => entry.tastingId !== 1)
            .reduce((sum, entry) => sum + entry.mg, 0);
        expect(shortOf(others)).toBeLessThanOrEqual(shortOf(wanted));
      }),
    );
  });
});

const anyLot = fc.record({
  coffeeId: fc.constantFrom(1, 2),
  mg: fc.integer({ min: 0, max: 900_000 }),
  day: fc.integer({ min: 10, max: 28 }),
});
const anyClaim = fc.record({
  coffeeId: fc.constantFrom(1, 2),
  mg: fc.integer({ min: 1, max: 500_000 }),
  day: fc.integer({ min: 15, max: 30 }),
  host: fc.constantFrom('U0INES', 'U0NOOR'),
});

test('shared out, no lot gives more than it holds, no table gets more than it wants, and all of it adds up', () => {
  fc.assert(
    fc.property(
      fc.array(anyLot, { maxLength: 5 }),
      fc.array(anyClaim, { maxLength: 6 }),
      fc.nat(400_000),
      (lotFacts, claimFacts, freeMg) => {
        const lots = lotFacts.map((facts, index) => ({
          ...{ id: index + 1, coffeeId: facts.coffeeId, mg: facts.mg },
          ...{ roastedOn: `2026-11-${facts.day}`, bestBy: null },
        }));
        const claims: HostClaim[] = claimFacts.map((facts, index) => ({
          ...{ tastingId: index + 1, coffeeId: facts.coffeeId, mg: facts.mg, host: facts.host },
          ...{
            bookedAt: new Date('2026-11-24T09:00:00Z'),
            tableDay: `2026-11-${facts.day}`,
            rest: { minDays: 1, maxDays: 10 },
          },
        }));
        const forWhom: RoastedFor = { tables: new Map([[2, 50_000]]), people: new Map([['U0INES', freeMg]]) };
        const plan = allotShelf(lots, claims, new Map([[1, forWhom]]));
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
