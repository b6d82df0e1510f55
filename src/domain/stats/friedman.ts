import { normalCritical } from './distributions.js';
import { chiSquareTail, type PermutationOptions, type Tail, USUAL_PERMUTATIONS } from './p-values.js';
import { permutationTail, sumOfSquares } from './permutation-tail.js';

/**
 * Ranks 1..n of the values, the smallest first; equal values share the mean of their ranks (midranks).
 */
export function midranks(values: readonly number[]): readonly number[] {
  // One taster's cups are a dozen: comparing each with each is quicker than sorting them.
  return values.map((value) => {
    let below = 0;
    let level = 0;
    for (const other of values) {
      if (other < value) below += 1;
      else if (other === value) level += 1;
    }
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
  const totals = columnSums(centred, cups);
  const squares = sumOfSquares(totals);
  const spread = centred.reduce((sum, row) => sum + sumOfSquares(row), 0);
  const df = cups - 1;
  const rankSums = columnSums(ranks, cups);
  if (spread === 0) return { rankSums, df, statistic: null, p: 1, method: 'exact', w: null };
  const statistic = (squares * df) / spread;
  const tail = permutationTail(centred, squares, options) ?? chiSquareTail(statistic, df);
  return { rankSums, df, statistic, ...tail, w: squares / (rows.length * spread) };
}

function columnSums(rows: readonly (readonly number[])[], columns: number): readonly number[] {
  const sums = new Array<number>(columns).fill(0);
  for (const row of rows) {
    for (let column = 0; column < columns; column += 1)
      sums[column] = (sums[column] ?? 0) + (row[column] ?? 0);
  }
  return sums;
}

/**
 * Least significant rank difference: two cups whose rank sums differ by at least this much differ at `alpha`,
 * one pair at a time. z × √(J P (P + 1) / 6) for J tasters and P cups (ranking test of ISO 8587, recalled).
 */
export function leastSignificantRankDifference(tasters: number, cups: number, alpha = 0.05): number {
  return normalCritical(alpha) * Math.sqrt((tasters * cups * (cups + 1)) / 6);
}
