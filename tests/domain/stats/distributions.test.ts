import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chiSquareUpperTail,
  logGamma,
  normalCritical,
  regularisedBeta,
  studentCritical,
  upperGamma,
} from '../../../src/domain/stats/distributions.js';

// A & S: M. Abramowitz & I. A. Stegun (editors), Handbook of Mathematical Functions, 1964. Further values, from SciPy, are
// held to in further.test.ts: chi-square tails down to 1e-30, binomial tails, intervals by Student's t.

/** Within `relative` of the figure however small it is. */
function expectClose(actual: number, expected: number, relative: number): void {
  const isClose = Math.abs(actual - expected) <= relative * Math.abs(expected);
  expect(isClose, `is ${actual}, should be ${expected}`).toBe(true);
}

/** P(X ≥ successes) in whole numbers, for a probability of a / b. */
function exactUpperTail(successes: number, trials: number, a: bigint, b: bigint): number {
  let ways = 1n;
  let tail = 0n;
  for (let count = 0; count <= trials; count += 1) {
    if (count >= successes) tail += ways * a ** BigInt(count) * (b - a) ** BigInt(trials - count);
    ways = (ways * BigInt(trials - count)) / BigInt(count + 1);
  }
  return Number((tail * 10n ** 80n) / b ** BigInt(trials)) / 1e80;
}

describe('the logarithm of the gamma function', () => {
  test('is that of the factorials', () => {
    let factorial = 1;
    for (let n = 1; n <= 100; n += 1) {
      factorial *= n;
      expect(Math.abs(logGamma(n + 1) - Math.log(factorial))).toBeLessThan(1e-13 * Math.max(1, n));
    }
    expect(Math.abs(logGamma(1))).toBeLessThan(1e-14);
    expect(Math.abs(logGamma(2))).toBeLessThan(1e-14);
  });

  test('has the halves of A & S 6.1.8 and 6.1.12: Γ(1/2) = √π, Γ(n + 1/2) = Γ(n − 1/2) (n − 1/2)', () => {
    let gamma = Math.sqrt(Math.PI);
    for (let n = 0; n < 60; n += 1) {
      expect(Math.abs(logGamma(n + 1 / 2) - Math.log(gamma))).toBeLessThan(1e-13 * Math.max(1, n));
      gamma *= n + 1 / 2;
    }
  });
});

describe('the incomplete beta function', () => {
  test.each([0.001, 0.02, 0.1, 0.25, 0.5, 0.6, 0.75, 0.9, 0.999])('has its closed forms at x = %d', (x) => {
    for (const a of [0.5, 1, 2.5, 7, 40, 300]) {
      expectClose(regularisedBeta(x, a, 1), x ** a, 1e-12);
      expectClose(regularisedBeta(x, 1, a), -Math.expm1(a * Math.log1p(-x)), 1e-12);
      expectClose(regularisedBeta(0.5, a, a), 0.5, 1e-12);
    }
    // The arcsine law: Iₓ(1/2, 1/2) = 2/π arcsin √x.
    expectClose(regularisedBeta(x, 0.5, 0.5), (2 / Math.PI) * Math.asin(Math.sqrt(x)), 1e-12);
  });

  test.each([
    [1, 2],
    [1, 3],
    [1, 20],
    [4, 5],
  ] as const)('is the binomial tail at %i/%i (A & S 26.5.24), in whole numbers, down to 1e-40', (a, b) => {
    for (const trials of [1, 2, 7, 20, 60]) {
      for (let successes = 1; successes <= trials; successes += 1) {
        const exact = exactUpperTail(successes, trials, BigInt(a), BigInt(b));
        if (exact < 1e-40) continue;
        expectClose(regularisedBeta(a / b, successes, trials - successes + 1), exact, 1e-11);
      }
    }
  });

  test('and its mirror add up to 1 (A & S 26.5.2), for any share and shape', () => {
    // Whole 2⁻²⁰ths, so that 1 − x is exact.
    const share = fc.integer({ min: 0, max: 2 ** 20 }).map((whole) => whole / 2 ** 20);
    const shape = fc.double({ min: 0.5, max: 500, noNaN: true });
    fc.assert(
      fc.property(share, shape, shape, (x, a, b) => {
        const below = regularisedBeta(x, a, b);
        expect(below).toBeGreaterThanOrEqual(0);
        expect(below).toBeLessThanOrEqual(1 + 1e-11);
        expect(Math.abs(below + regularisedBeta(1 - x, b, a) - 1)).toBeLessThan(1e-11);
      }),
    );
  });

  test('gives the probability that a share is above another under Jeffreys’ prior: symmetric about a half', () => {
    expectClose(regularisedBeta(0.5, 6.5, 3.5), 1 - regularisedBeta(0.5, 3.5, 6.5), 1e-12);
    expect([regularisedBeta(0, 2, 3), regularisedBeta(1, 2, 3)]).toEqual([0, 1]);
  });
});

describe('the incomplete gamma function', () => {
  test.each([0.001, 0.3, 1, 2, 5, 12, 40])(
    'has its closed forms at x = %d (A & S 6.5.11 and 26.4.21)',
    (x) => {
      let term = Math.exp(-x);
      let sum = 0;
      for (let a = 1; a <= 30; a += 1) {
        sum += term;
        expectClose(upperGamma(a, x), sum, 1e-12);
        term *= x / a;
      }
      expect(upperGamma(2.5, 0)).toBe(1);
    },
  );
});

describe('chi-square', () => {
  // A & S table 26.8, percentage points to six figures.
  test.each([
    [3.84146, 1, 0.05],
    [6.6349, 1, 0.01],
    [5.99147, 2, 0.05],
    [7.81473, 3, 0.05],
    [15.0863, 5, 0.01],
    [18.307, 10, 0.05],
    [29.5883, 10, 0.001],
    [43.7729, 30, 0.05],
  ])('%d on %i degrees of freedom leaves %d', (statistic, df, tail) => {
    expectClose(chiSquareUpperTail(statistic, df), tail, 2e-5);
  });
});

describe('the normal distribution', () => {
  // A & S table 26.1, P(x) to fifteen places.
  test.each([
    [1, 0.841344746068543],
    [1.5, 0.933192798731142],
    [1.96, 0.97500210485178],
    [2, 0.977249868051821],
    [3, 0.99865010196837],
  ])('%d leaves half of its tails above it: P = %d', (x, below) => {
    expectClose(normalCritical(2 * (1 - below)), x, 1e-11);
    expectClose(chiSquareUpperTail(x * x, 1), 2 * (1 - below), 1e-11);
  });

  test('1.959963984540054 leaves 5 % outside, 2.5758293035489 leaves 1 %', () => {
    expectClose(normalCritical(0.05), 1.959963984540054, 2e-15);
    expectClose(normalCritical(0.01), 2.5758293035489004, 2e-15);
  });

  test.each([0.999999, 0.9, 0.5, 0.1, 1e-3, 1e-8, 1e-20, 1e-100])(
    'leaves what was asked for: %d',
    (alpha) => {
      const z = normalCritical(alpha);
      expectClose(chiSquareUpperTail(z * z, 1), alpha, 1e-11);
    },
  );
});

describe('Student’s t', () => {
  // A & S table 26.10 (percentage points), for 95 % and 99 % between ±t.
  test.each([
    [1, 12.706, 63.657],
    [2, 4.303, 9.925],
    [5, 2.571, 4.032],
    [10, 2.228, 3.169],
    [30, 2.042, 2.75],
    [120, 1.98, 2.617],
  ])('on %i degrees of freedom is %d at 5 %% and %d at 1 %%', (df, five, one) => {
    expect(Math.abs(studentCritical(0.05, df) - five)).toBeLessThanOrEqual(0.000_51);
    expect(Math.abs(studentCritical(0.01, df) - one)).toBeLessThanOrEqual(0.000_51);
  });

  test.each([0.5, 0.1, 0.05, 0.001, 1e-9])(
    'has its closed forms for one and two degrees, alpha %d',
    (alpha) => {
      expectClose(studentCritical(alpha, 1), 1 / Math.tan((Math.PI * alpha) / 2), 1e-11);
      expectClose(studentCritical(alpha, 2), (1 - alpha) * Math.sqrt(2 / (alpha * (2 - alpha))), 1e-11);
    },
  );

  test('comes near the normal value with many degrees of freedom', () => {
    expectClose(studentCritical(0.05, 1e7), normalCritical(0.05), 1e-6);
  });
});
