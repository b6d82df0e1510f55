import { describe, expect, test } from 'vitest';
import published from '../../../fixtures/published/conover.json' with { type: 'json' };
import { conover } from '../../../src/domain/stats/conover.js';

describe('Conover’s F and rank difference', () => {
  for (const { id, source, input, expected, decimals, fullPrecision } of published.examples) {
    test(`${id} (${source})`, () => {
      const result = conover(input.data, input.alpha);
      expect(result?.f).toBeCloseTo(expected.T2, decimals.T2);
      expect(result?.leastDifference).toBeCloseTo(expected.lsd, decimals.lsd);
      expect(result?.f).toBeCloseTo(fullPrecision.T2, 10);
      expect(result?.p).toBeCloseTo(fullPrecision.p_F, 12);
      expect(result?.leastDifference).toBeCloseTo(fullPrecision.lsd, 9);
    });
  }

  test('five tasters and a tie, with friedman.test, pf and qt in R', () => {
    const rows = [
      [1, 2, 3],
      [1, 2, 2],
      [2, 1, 3],
      [1, 3, 2],
      [1, 2, 3],
    ];
    const result = conover(rows);
    expect(result?.f).toBeCloseTo(6, 12);
    expect(result?.p).toBeCloseTo(0.025600000000000001, 12);
    expect(result?.leastDifference).toBeCloseTo(5.025819494370932, 12);
  });

  test('whole agreement leaves no disagreement to divide by: the chance is that of repeating one of six orders', () => {
    const result = conover([
      [1, 2, 3],
      [1, 2, 3],
    ]);
    expect(result).toEqual({ f: Number.POSITIVE_INFINITY, p: 1 / 6, leastDifference: 0 });
    expect(conover([[1, 2]])).toBeNull();
    expect(
      conover([
        [1, 1],
        [2, 2],
      ]),
    ).toBeNull();
  });
});
