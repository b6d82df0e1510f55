import { normalCritical } from './distributions.js';
import { type PermutationOptions, type Tail, USUAL_PERMUTATIONS } from './p-values.js';
import { columnSums, columnsTest } from './permutation-tail.js';

/**
 * Ranks 1..n of the values, the smallest first; equal values share the mean of their ranks (midranks).
 */
export function midranks(values: readonly number[]): readonly number[] {
  return values.map((value) => {
    const below = values.filter((other) => other < value).length;
    const level = values.filter((other) => other === value).length;
    return below + (level + 1) / 2;
  });
}

/** Friedman's test of a complete table, with Kendall's W, which is the same figure on a scale of 0 to 1. */
type FriedmanResult = Tail & {
  readonly rankSums: readonly number[];
  /** null when every taster ties every cup: the statistic is 0/0 */
  readonly statistic: number | null;
  readonly df: number;
  /** Kendall's coefficient of concordance corrected for ties, 0..1; null when the statistic is */
  readonly w: number | null;
};

/**
 * Friedman rank test with tie correction. Each row is ranked by itself, the smallest value first, with
 * midranks for ties: (k − 1) Σ (R_j − n (k + 1) / 2)² / (A − n k (k + 1)² / 4) for n tasters, k cups, rank sums R_j
 * and A the sum of all squared ranks, which without ties is 12 / (n k (k + 1)) Σ R_j² − 3 n (k + 1); W is it divided
 * by n (k − 1) (M. Friedman, 1937, JASA 32:675–701; tie correction and W: M. G. Kendall, Rank Correlation
 * Methods, 1948). The p-value is exact or from a seeded permutation sample for small tables, else chi-square.
 *
 * @param rows one row per taster, one value per cup, none missing
 * @throws {RangeError} when rows differ in length or there are fewer than two cups
 */
export function friedman(
  rows: readonly (readonly number[])[],
  options: PermutationOptions = USUAL_PERMUTATIONS,
): FriedmanResult {
  const cups = rows[0]?.length ?? 0;
  if (cups < 2 || rows.some((row) => row.length !== cups)) {
    throw new RangeError('Friedman needs rows of one length, two cups or more.');
  }
  const ranks = rows.map(midranks);
  // Doubled distances from the middle rank are whole numbers, so sums and comparisons are exact.
  const centred = ranks.map((row) => row.map((rank) => 2 * rank - (cups + 1)));
  const { spread: _, totals: __, ...test } = columnsTest(centred, cups, options);
  const w = test.statistic === null ? null : test.statistic / (rows.length * test.df);
  return { rankSums: columnSums(ranks, cups), ...test, w };
}

/**
 * Least significant rank difference: two cups whose rank sums differ by at least this much differ at `alpha`,
 * one pair at a time. z × √(J P (P + 1) / 6) for J tasters and P cups (ranking test of ISO 8587, recalled).
 */
export function leastSignificantRankDifference(tasters: number, cups: number, alpha = 0.05): number {
  return normalCritical(alpha) * Math.sqrt((tasters * cups * (cups + 1)) / 6);
}
