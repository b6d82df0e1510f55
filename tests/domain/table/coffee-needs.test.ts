import { describe, expect, test } from 'vitest';
import { coffeeNeeds } from '../../../src/domain/table/coffee-needs.js';
import { doseFor } from '../../../src/domain/table/dose.js';
import { FERNHOLLOW, harbourLampTable } from './harbour-lamp.js';

const dose = doseFor('cupping', 6, FERNHOLLOW);
const plan = { ...FERNHOLLOW, cups: harbourLampTable(false).cups, dose, tables: 1, poursToCome: 0 };

describe('the grams of a tasting', () => {
  // By hand, two bowls of 11.4 g: Chirinos alone 22.8, in the blend 2 × 5.7, in 2:1:1 2 × 5.7 = 45.6 g;
  // purge 5 + 2.5 + 2.5 = 10 g; twice 55.6 g and 50 g to spare are 161.2 g.
  test('of Harbour Lamp beside its coffees and 2:1:1', () => {
    expect(coffeeNeeds(plan)).toEqual([
      { coffeeId: 1, tableMg: 45_600, purgeMg: 10_000, totalMg: 161_200 },
      // Kayanza Hill: 22.8 + 2 × 3.4 + 2 × 2.9 = 35.4 g; purge 5 + 1.5 + 1.3 = 7.8 g.
      { coffeeId: 2, tableMg: 35_400, purgeMg: 7800, totalMg: 136_400 },
      // Nubosa Natural: 22.8 + 2 × 2.3 + 2 × 2.8 = 33 g; purge 5 + 1 + 1.2 = 7.2 g.
      { coffeeId: 3, tableMg: 33_000, purgeMg: 7200, totalMg: 130_400 },
    ]);
  });

  // Rule of thumb: cups × dose × 2 + 50 g; five cups at 11 g are about 160 g (common practice, no source).
  test('agrees with the rule of thumb for one coffee', () => {
    const five = { format: 'cupping' as const, doseMg: 11_000, waterMl: 200, vessels: 5 };
    const alone = [{ kind: 'component' as const, parts: [{ coffeeId: 1, parts: 1 }] }];
    expect(coffeeNeeds({ ...plan, dose: five, cups: alone, purgeMg: 0 })).toEqual([
      { coffeeId: 1, tableMg: 55_000, purgeMg: 0, totalMg: 160_000 },
    ]);
  });

  test('doubles with a second table, but not the spare grams', () => {
    const [one] = coffeeNeeds(plan);
    const [two] = coffeeNeeds({ ...plan, tables: 2 });
    expect((two?.totalMg ?? 0) - 50_000).toBe(2 * ((one?.totalMg ?? 0) - 50_000));
  });

  test('allows one more bowl of every coffee for each pour to come', () => {
    const poured = coffeeNeeds({ ...plan, poursToCome: 2 });
    expect(poured.map((need) => need.tableMg)).toEqual([45_600 + 22_800, 35_400 + 22_800, 33_000 + 22_800]);
  });

  test('a cup that is poured takes nothing of its own', () => {
    const pour = {
      kind: 'pour' as const,
      parts: [
        { coffeeId: 1, parts: 3 },
        { coffeeId: 2, parts: 2 },
      ],
    };
    expect(coffeeNeeds({ ...plan, cups: [...plan.cups, pour] })).toEqual(coffeeNeeds(plan));
  });
});
