import { describe, expect, test } from 'vitest';
import published from '../../../fixtures/published/cochran-q.json' with { type: 'json' };
import { cochranQ } from '../../../src/domain/stats/cochran-q.js';
import { pChiSquare } from './close.js';

describe("Cochran's Q against published tables", () => {
  for (const { id, source, input, expected, decimals, fullPrecision } of published.examples) {
    test(`${id} (${source})`, () => {
      const result = cochranQ(input.data);
      expect(result.q).toBeCloseTo(expected.Q, decimals.Q);
      expect(result.q).toBeCloseTo(fullPrecision.Q, 10);
      expect(result.df).toBe(expected.df);
      expect(pChiSquare(result)).toBeCloseTo(fullPrecision.p, 12);
      if ('p' in expected && expected.p !== undefined) {
        expect(pChiSquare(result)).toBeCloseTo(expected.p, decimals.p ?? 4);
      }
      expect(result.columnTotals).toEqual(fullPrecision.column_totals);
    });
  }
});

describe("Cochran's Q by hand", () => {
  test('two cups make it the sign test over those who tell them apart: 5 against 0, p = 2/32', () => {
    const rows = [...Array.from({ length: 5 }, () => [1, 0]), [1, 1], [0, 0], [0, 0]];
    const result = cochranQ(rows);
    expect(result.q).toBeCloseTo(5, 12);
    expect(result.p).toBeCloseTo(2 / 32, 15);
    expect(result.method).toBe('exact');
  });

  test('nobody telling any cup from another leaves nothing to compute and p = 1', () => {
    const result = cochranQ([
      [1, 1, 1],
      [0, 0, 0],
    ]);
    expect(result).toMatchObject({ q: null, p: 1, residuals: [0, 0, 0] });
  });

  test('a taster who skipped a cup still counts on the others', () => {
    // Three of three find it in the first and not in the second; the third column is noted by one of them.
    const result = cochranQ([
      [1, 0, null],
      [1, 0, null],
      [1, 0, 0],
    ]);
    expect(result.columnTotals).toEqual([3, 0, 0]);
    // Arrangements: 2 × 2 × 3, equally likely; as extreme is 'first, first, first' and its mirror.
    expect(result.p).toBeCloseTo(2 / 12, 12);
  });

  test('someone with one cup is unable to compare, and changes no p-value', () => {
    const rows = [
      [1, 0, 0],
      [1, 0, 1],
      [1, 1, 0],
      [0, 0, 1],
    ];
    const withOne = cochranQ([...rows, [null, 1, null]]);
    expect(withOne.p).toBeCloseTo(cochranQ(rows).p, 12);
    expect(withOne.q).toBeCloseTo(cochranQ(rows).q ?? Number.NaN, 9);
  });
});
