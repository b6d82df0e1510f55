import { describe, expect, test } from 'vitest';
import { seededFractions } from '../../../src/domain/stats/seeded-random.js';
import { liquidLeftMl, planPour, spooningError } from '../../../src/domain/table/pour.js';

const BOWLS = { vessels: 2, waterMl: 207, doseMg: 11_400, spoonfulsTaken: 0, pouredMl: 0 };

describe('a pour', () => {
  // By hand: 207 − 2 × 11.4 − 30 = 154.2 mL a spoon can lift from a bowl; two bowls, 36 spoonfuls of 5 mL taken.
  test('knows what the bowls still hold', () => {
    expect(liquidLeftMl({ ...BOWLS, spoonfulsTaken: 36 })).toBeCloseTo(128.4, 9);
    expect(liquidLeftMl({ ...BOWLS, spoonfulsTaken: 36, pouredMl: 200 })).toBe(0);
  });

  // By hand: six people, two spoonfuls of 5 mL each, want 60 mL: 3:2:1 is six scoops or 30 mL a round, so two rounds.
  test('of 3:2:1 for six people is two rounds of six scoops', () => {
    const pour = planPour([3, 2, 1], [BOWLS, BOWLS, BOWLS], 6, 2.5);
    expect(pour).toMatchObject({ spoonfuls: [6, 4, 2], volumeMl: 60, missing: [] });
    expect(pour.scoops.scoops).toEqual([3, 2, 1]);
  });

  test('says which coffee has too little left, and by how much', () => {
    const nearlyEmpty = { ...BOWLS, pouredMl: 300 };
    // 308.4 − 300 = 8.4 mL left of the 30 mL that two rounds of three scoops take: 21.6 mL, shown as 22.
    expect(planPour([3, 2, 1], [nearlyEmpty, BOWLS, BOWLS], 6, 2.5).missing).toEqual([
      { component: 0, ml: 22 },
    ]);
    expect(planPour([1, 1], [BOWLS], 6, 2.5).missing).toEqual([{ component: 1, ml: 30 }]);
  });

  test('states the likely error of spooning as simulated spoonfuls show it', () => {
    const random = seededFractions(3);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const scoops = [3, 2, 1];
    const firstShares = Array.from({ length: 4000 }, () => {
      const laid = scoops.map((count) =>
        Array.from({ length: count * 2 }, () => 1 + 0.1 * normal()).reduce((a, b) => a + b, 0),
      );
      return (100 * (laid[0] ?? 0)) / laid.reduce((a, b) => a + b, 0);
    });
    const mean = firstShares.reduce((a, b) => a + b, 0) / firstShares.length;
    const deviation = Math.sqrt(
      firstShares.reduce((sum, share) => sum + (share - mean) ** 2, 0) / firstShares.length,
    );
    expect(spooningError([6, 4, 2])[0]).toBeCloseTo(deviation, 0);
    expect(Math.abs((spooningError([6, 4, 2])[0] ?? 0) / deviation - 1)).toBeLessThan(0.05);
  });
});
