import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import further from '../../../fixtures/published/further.json' with { type: 'json' };
import pairedCritical from '../../../fixtures/published/paired-critical-counts.json' with { type: 'json' };
import paired from '../../../fixtures/published/paired-preference.json' with { type: 'json' };
import triangle from '../../../fixtures/published/triangle.json' with { type: 'json' };
import wilson from '../../../fixtures/published/wilson.json' with { type: 'json' };
import { wilsonInterval } from '../../../src/domain/stats/intervals.js';
import { holm } from '../../../src/domain/stats/p-values.js';
import { signTest } from '../../../src/domain/stats/sign-test.js';
import { binomialUpperTail } from './binomial.js';

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

describe('sign test and binomial tails', () => {
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

  test('counts that cannot be are refused', () => {
    expect(() => signTest(-1, 3)).toThrow(RangeError);
  });
});

/** The smallest number of agreeing choices that the sign test tells from chance. */
function smallestPreferred(people: number, alpha: number): number | null {
  const counts = Array.from({ length: people + 1 }, (_, count) => count);
  return (
    counts.filter((count) => 2 * count > people).find((count) => signTest(count, people - count) <= alpha) ??
    null
  );
}

describe('smallest counts beyond chance in a paired preference test', () => {
  const { alphas, paired: listed } = further.critical;

  test.each(listed.map((counts, index) => ({ people: index + 1, counts })))(
    '$people people, from the binomial in fractions (fixtures/published/further.py)',
    ({ people, counts }) => {
      expect(alphas.map((alpha) => smallestPreferred(people, alpha))).toEqual(counts);
    },
  );

  for (const { id, source, input, expected } of pairedCritical.examples) {
    test(`${id} (${source})`, () => {
      const computed = expected.table.map(({ n }) => ({
        n,
        min: input.alpha.map((alpha) => smallestPreferred(n, alpha)),
      }));
      expect(computed).toEqual(expected.table);
    });
  }
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
