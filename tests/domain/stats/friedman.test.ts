import { describe, expect, test } from 'vitest';
import complete from '../../../fixtures/published/friedman.json' with { type: 'json' };
import exact from '../../../fixtures/published/friedman-exact.json' with { type: 'json' };
import rankSums from '../../../fixtures/published/friedman-rank-sums.json' with { type: 'json' };
import w from '../../../fixtures/published/kendall-w.json' with { type: 'json' };
import identity from '../../../fixtures/published/kendall-w-identity.json' with { type: 'json' };
import { friedman } from '../../../src/domain/stats/friedman.js';
import { pChiSquare } from './close.js';
import { rowsWithRankSums, tableWithStatistic } from './rank-tables.js';

describe('Friedman against published tables', () => {
  for (const { id, source, input, expected, decimals, fullPrecision } of complete.examples) {
    test(`${id} has the published statistic and p (${source})`, () => {
      const result = friedman(input.data);
      expect(result.statistic).toBeCloseTo(expected.chi2, decimals.chi2);
      expect(result.statistic).toBeCloseTo(fullPrecision.chi2, 9);
      expect(pChiSquare(result)).toBeCloseTo(expected.p, decimals.p);
      expect(pChiSquare(result)).toBeCloseTo(fullPrecision.p, 12);
      expect(result.df).toBe(expected.df);
      expect(result.rankSums).toEqual(fullPrecision.rank_sums);
      expect(pChiSquare(result) < 0.05).toBe(fullPrecision.significant_at_5_percent);
    });
  }

  // Meilgaard, Civille & Carr, Sensory Evaluation Techniques: four sweeteners ranked by 48 judges.
  const sweeteners = rankSums.examples[0];
  test(`${sweeteners?.id} gives the published statistic from any rows with the published rank sums`, () => {
    const rows = rowsWithRankSums([135, 103, 137, 105], 48);
    const result = friedman(rows);
    expect(result.rankSums).toEqual([135, 103, 137, 105]);
    expect(result.statistic).toBeCloseTo(12.85, 9);
    expect(pChiSquare(result)).toBeCloseTo(0.00497247754267, 12);
    expect(result.method).toBe('chi-square');
  });

  test('the eleven-assessor ranking finds a difference, with the published rank sums', () => {
    const { input, fullPrecision } = rankSums.examples[1] ?? {};
    const result = friedman(input?.data ?? []);
    expect(result.rankSums).toEqual(fullPrecision?.rank_sums);
    expect(result.statistic).toBeCloseTo(fullPrecision?.chi2 ?? Number.NaN, 9);
    expect(result.p).toBeLessThan(0.05);
  });
});

describe('exact p-values', () => {
  for (const { id, source, input, expected, decimals, fullPrecision } of exact.examples) {
    input.chi2.forEach((chi2, index) => {
      test(`${id} at ${chi2.toFixed(3)} has the tabled tail (${source})`, () => {
        const result = friedman(tableWithStatistic(input.n, input.k, chi2));
        const places = Array.isArray(decimals.p) ? (decimals.p[index] ?? 3) : decimals.p;
        expect(result.statistic).toBeCloseTo(chi2, 9);
        expect(result.method).toBe('exact');
        expect(result.p).toBeCloseTo(expected.p[index] ?? Number.NaN, places);
        expect(result.p).toBeCloseTo(fullPrecision.p[index] ?? Number.NaN, 11);
      });
    });
  }

  test('two cups make it the sign test: six of six put one cup first, p = 2/64', () => {
    expect(friedman(Array.from({ length: 6 }, () => [1, 2])).p).toBeCloseTo(2 / 64, 15);
  });

  test('two cups stay exact for any number of tasters: 540 of 1000 prefer one', () => {
    const rows = Array.from({ length: 1000 }, (_, taster) => (taster < 540 ? [1, 2] : [2, 1]));
    // binom.test(540, 1000)$p.value in R.
    expect(friedman(rows)).toMatchObject({ method: 'exact' });
    expect(friedman(rows).p).toBeCloseTo(0.012444146277171803, 12);
  });

  test('everyone tying everything leaves nothing to compute and p = 1', () => {
    const result = friedman([
      [5, 5, 5],
      [1, 1, 1],
    ]);
    expect(result).toMatchObject({ statistic: null, w: null, p: 1 });
  });

  test('rows of different length and single cups are refused', () => {
    expect(() => friedman([[1, 2], [1]])).toThrow(RangeError);
    expect(() => friedman([[1], [1]])).toThrow(RangeError);
  });
});

describe("Kendall's W", () => {
  for (const { id, source, input, expected, decimals, fullPrecision } of w.examples) {
    test(`${id} has the published W (${source})`, () => {
      const result = friedman(input.data);
      expect(result.w).toBeCloseTo(expected.W, decimals.W);
      expect(result.w).toBeCloseTo(fullPrecision.W, 11);
      expect(result.statistic).toBeCloseTo(fullPrecision.chi2, 9);
      expect(pChiSquare(result)).toBeCloseTo(fullPrecision.p, 11);
    });
  }

  test('three executives and six applicants have the rank sums of the book (Siegel 1956, Table 9.1)', () => {
    expect(friedman(w.examples[1]?.input.data ?? []).rankSums).toEqual([8, 14, 11, 11, 11, 8]);
  });

  test('is the Friedman statistic over n (k − 1)', () => {
    const { input, fullPrecision } = identity.examples[0] ?? {};
    const result = friedman(input?.data ?? []);
    expect(result.w).toBeCloseTo(fullPrecision?.W ?? Number.NaN, 11);
    expect((result.w ?? 0) * 22 * 2).toBeCloseTo(result.statistic ?? Number.NaN, 12);
  });
});
