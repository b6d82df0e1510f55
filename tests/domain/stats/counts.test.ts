import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import mendel from '../../../fixtures/published/binomial.json' with { type: 'json' };
import critical from '../../../fixtures/published/critical-counts.json' with { type: 'json' };
import matching from '../../../fixtures/published/matching.json' with { type: 'json' };
import pairedCritical from '../../../fixtures/published/paired-critical-counts.json' with { type: 'json' };
import paired from '../../../fixtures/published/paired-preference.json' with { type: 'json' };
import triangle from '../../../fixtures/published/triangle.json' with { type: 'json' };
import wilson from '../../../fixtures/published/wilson.json' with { type: 'json' };
import { binomialTwoSided, binomialUpperTail } from '../../../src/domain/stats/binomial.js';
import {
  duoTrioCriticalCount,
  pairedPreferenceCriticalCount,
  triangleCriticalCount,
} from '../../../src/domain/stats/critical-counts.js';
import { holm } from '../../../src/domain/stats/holm.js';
import { matchingDistribution } from '../../../src/domain/stats/matching.js';
import { signTest } from '../../../src/domain/stats/sign-test.js';
import { wilsonInterval } from '../../../src/domain/stats/wilson.js';

describe('Wilson interval', () => {
  for (const { id, source, input, expected, decimals, fullPrecision } of wilson.examples) {
    test(`${id} (${source})`, () => {
      const [low, high] = wilsonInterval(input.x, input.n, input.conf);
      expect(low).toBeCloseTo(expected.low, decimals.low);
      expect(high).toBeCloseTo(expected.high, decimals.high);
      expect(low).toBeCloseTo(fullPrecision.low, 11);
      expect(high).toBeCloseTo(fullPrecision.high, 11);
    });
  }

  test('holds the share and stays within 0 and 1; swapping yes and no mirrors it', () => {
    const counts = fc
      .integer({ min: 1, max: 1000 })
      .chain((n) => fc.tuple(fc.integer({ min: 0, max: n }), fc.constant(n)));
    fc.assert(
      fc.property(counts, ([x, n]) => {
        const [low, high] = wilsonInterval(x, n);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(1);
        expect(low).toBeLessThanOrEqual(x / n);
        expect(high).toBeGreaterThanOrEqual(x / n);
        expect(wilsonInterval(n - x, n)[0]).toBeCloseTo(1 - high, 14);
      }),
    );
  });

  test('with nobody, anything is possible', () => {
    expect(wilsonInterval(0, 0)).toEqual([0, 1]);
  });
});

describe('exact binomial', () => {
  test('Mendel’s peas, two-sided (Conover 1971, as in the R documentation)', () => {
    const { expected, fullPrecision } = mendel.examples[0] ?? {};
    expect(binomialTwoSided(682, 925, [3, 4])).toBeCloseTo(expected?.p ?? Number.NaN, 4);
    expect(binomialTwoSided(682, 925, [3, 4])).toBeCloseTo(fullPrecision?.p ?? Number.NaN, 12);
  });

  for (const { id, source, input, expected, decimals, fullPrecision } of paired.examples) {
    test(`${id} (${source})`, () => {
      expect(signTest(input.x, input.n - input.x)).toBeCloseTo(expected.p, decimals.p);
      expect(signTest(input.x, input.n - input.x)).toBeCloseTo(fullPrecision.p, 12);
    });
  }

  test('11 of 20 in a triangle (ISO 4120)', () => {
    const { expected, fullPrecision } = triangle.examples[0] ?? {};
    expect(binomialUpperTail(11, 20, [1, 3])).toBeCloseTo(expected?.p ?? Number.NaN, 5);
    expect(binomialUpperTail(11, 20, [1, 3])).toBeCloseTo(fullPrecision?.p ?? Number.NaN, 12);
  });

  test.each([
    [6, 0, 2 / 64],
    [9, 1, 22 / 1024],
    [8, 2, 112 / 1024],
    [0, 0, 1],
    [5, 5, 1],
  ])('%i wins and %i losses, to the last bit, by hand', (wins, losses, expected) => {
    expect(signTest(wins, losses)).toBe(expected);
  });

  test('is symmetrical and never above 1', () => {
    fc.assert(
      fc.property(fc.nat(300), fc.nat(300), (a, b) => {
        const p = signTest(a, b);
        expect(p).toBe(signTest(b, a));
        expect(p).toBeGreaterThan(0);
        expect(p).toBeLessThanOrEqual(1);
      }),
      { numRuns: 40 },
    );
  });

  test('both tails of any count add up to 1', () => {
    const cases = fc
      .integer({ min: 1, max: 200 })
      .chain((n) => fc.tuple(fc.integer({ min: 1, max: n }), fc.constant(n)));
    fc.assert(
      fc.property(cases, ([k, n]) => {
        expect(binomialUpperTail(k, n, [1, 3]) + binomialUpperTail(n - k + 1, n, [2, 3])).toBeCloseTo(1, 14);
      }),
      { numRuns: 40 },
    );
  });

  test('counts that cannot be are refused', () => {
    expect(() => signTest(-1, 3)).toThrow(RangeError);
    expect(() => binomialUpperTail(2, 1, [1, 2])).toThrow(RangeError);
    expect(() => binomialUpperTail(1, 2, [2, 2])).toThrow(RangeError);
  });
});

describe('smallest counts beyond chance', () => {
  const tables = [
    { example: critical.examples[0], count: triangleCriticalCount },
    { example: critical.examples[1], count: duoTrioCriticalCount },
    { example: pairedCritical.examples[0], count: pairedPreferenceCriticalCount },
  ];
  for (const { example, count } of tables) {
    test(`${example?.id} for 6 to 60 people (${example?.source})`, () => {
      const alphas = example?.input.alpha ?? [];
      const computed = example?.expected.table.map(({ n }) => ({
        n,
        min: alphas.map((alpha) => count(n, alpha)),
      }));
      expect(computed).toEqual(example?.expected.table);
    });
  }

  test('3 of 3 is the smallest triangle at 5 % (1/27)', () => {
    expect(triangleCriticalCount(3, 0.05)).toBe(3);
    expect(triangleCriticalCount(2, 0.05)).toBeNull();
  });
});

describe('matching by luck', () => {
  for (const { id, source, input, expected, fullPrecision } of matching.examples) {
    test(`${id} (${source})`, () => {
      const { counts, probabilities, atLeast } = matchingDistribution(input.n);
      expect(counts).toEqual(expected.counts);
      probabilities.forEach((p, k) => {
        expect(p).toBeCloseTo(fullPrecision.prob[k] ?? Number.NaN, 11);
        expect(atLeast[k]).toBeCloseTo(fullPrecision.tail_ge[k] ?? Number.NaN, 11);
      });
      expect(probabilities.reduce((mean, p, k) => mean + p * k, 0)).toBeCloseTo(expected.mean, 12);
      expect(probabilities.reduce((variance, p, k) => variance + p * (k - 1) ** 2, 0)).toBeCloseTo(
        expected.var,
        12,
      );
    });
  }

  test('all right by luck: 1/24 for 4 cups, 1/120 for 5 (Riordan 1958)', () => {
    expect(matchingDistribution(4).atLeast[4]).toBe(1 / 24);
    expect(matchingDistribution(5).atLeast[5]).toBe(1 / 120);
    expect(() => matchingDistribution(0)).toThrow(RangeError);
  });
});

describe('Holm', () => {
  test('steps down and never crosses, by hand', () => {
    // Ascending 0.005 × 4, 0.01 × 3, 0.03 × 2, 0.04 × 1; the last may not fall below the one before.
    const adjusted = holm([0.01, 0.04, 0.03, 0.005]);
    [0.03, 0.06, 0.06, 0.02].forEach((p, index) => {
      expect(adjusted[index]).toBeCloseTo(p, 15);
    });
  });

  test('keeps the order of the p-values, stays within 1, and lies between p and Bonferroni', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 12 }),
        (ps) => {
          const adjusted = holm(ps);
          ps.forEach((p, index) => {
            expect(adjusted[index]).toBeGreaterThanOrEqual(p);
            expect(adjusted[index]).toBeLessThanOrEqual(Math.min(1, p * ps.length));
          });
        },
      ),
    );
  });
});
