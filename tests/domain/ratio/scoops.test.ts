import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_HOUSE } from '../../../src/domain/house/house-facts.js';
import { formatRatio, nameRatio, percentages, sameRatio } from '../../../src/domain/ratio/parts.js';
import { scoops } from '../../../src/domain/ratio/scoops.js';

const USUAL = DEFAULT_HOUSE.scoopTolerancePoints;

/** Every way to lay `total` scoops with at least one of each coffee that has a part. */
function* everyWay(parts: readonly number[], total: number): Generator<readonly number[]> {
  const [first, ...others] = parts;
  if (first === undefined) {
    if (total === 0) yield [];
    return;
  }
  const least = first > 0 ? 1 : 0;
  for (let count = least; count <= (first > 0 ? total : 0); count += 1) {
    for (const rest of everyWay(others, total - count)) yield [count, ...rest];
  }
}

function worst(scooped: readonly number[], parts: readonly number[]): number {
  const [laid, sum] = [scooped, parts].map((list) => list.reduce((a, b) => a + b, 0));
  return Math.max(
    ...scooped.map((count, index) =>
      Math.abs((100 * count) / (laid ?? 1) - (100 * (parts[index] ?? 0)) / (sum ?? 1)),
    ),
  );
}

describe('scoops', () => {
  // Two scoops to one to one is 50/25/25: common practice, no source.
  test('two scoops to one to one is 50/25/25', () => {
    expect(scoops([2, 1, 1], USUAL)).toEqual({ scoops: [2, 1, 1], worstErrorPoints: 0, exact: [2, 1, 1] });
    expect(percentages([2, 1, 1])).toEqual([50, 25, 25]);
  });

  test('50/30/20 is five, three and two scoops exactly, and no fewer come close', () => {
    // By hand, the best of each total: 3:1:1 is 10 points off, 3:2:1 is 3.3, 3:2:2 is 8.6, 4:2:2 is 5, 4:3:2 is
    // 5.6; ten scoops are exact.
    expect(scoops([50, 30, 20], USUAL)).toEqual({ scoops: [5, 3, 2], worstErrorPoints: 0, exact: [5, 3, 2] });
  });

  test('48/32/20 is scooped as five, three and two within 2 points, and has no short exact form', () => {
    const built = scoops([48, 32, 20], USUAL);
    expect(built.worstErrorPoints).toBeLessThanOrEqual(2.5);
    expect(built.exact).toBeNull();
  });

  test('are the fewest within the tolerance, and the best of those, against every way to lay them', () => {
    const partLists = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 2, maxLength: 4 });
    fc.assert(
      fc.property(partLists, fc.constantFrom(2.5, 5), (parts, tolerance) => {
        fc.pre(parts.some((part) => part > 0));
        const built = scoops(parts, tolerance);
        const total = built.scoops.reduce((a, b) => a + b, 0);
        fc.pre(total <= 24);
        for (let fewer = 1; fewer < total; fewer += 1) {
          for (const way of everyWay(parts, fewer)) expect(worst(way, parts)).toBeGreaterThan(tolerance);
        }
        const best = Math.min(...[...everyWay(parts, total)].map((way) => worst(way, parts)));
        expect(best).toBeCloseTo(built.worstErrorPoints, 9);
        expect(built.worstErrorPoints).toBeLessThanOrEqual(tolerance + 1e-9);
      }),
      { numRuns: 60 },
    );
  });

  test('refuse a tolerance that nothing meets', () => {
    expect(() => scoops([997, 1], 0.0001)).toThrow(RangeError);
  });
});

describe('percentages', () => {
  test('of thirds add up to 100.0, the first getting the rest', () => {
    expect(percentages([1, 1, 1])).toEqual([33.4, 33.3, 33.3]);
    expect(percentages([1, 1, 1], 0)).toEqual([34, 33, 33]);
  });

  test('always add up to exactly 100.0', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 5000 }), { minLength: 1, maxLength: 8 }), (parts) => {
        const tenths = percentages(parts).map((share) => Math.round(share * 10));
        expect(tenths.reduce((a, b) => a + b, 0)).toBe(1000);
      }),
    );
  });
});

test('a ratio is shown as people say it', () => {
  expect(formatRatio([50, 30, 20])).toBe('50/30/20');
  expect(formatRatio([4, 2, 2])).toBe('2:1:1');
  expect(formatRatio([30, 30, 30])).toBe('1:1:1');
  expect(nameRatio([60, 40, 0], ['Chirinos', 'Kayanza Hill', 'Nubosa Natural'])).toBe(
    'Chirinos 60 %, Kayanza Hill 40 %',
  );
  expect(sameRatio([50, 30, 20], [5, 3, 2])).toBe(true);
  expect(sameRatio([50, 30, 20], [2, 1, 1])).toBe(false);
});
