import { chiSquareUpperTail } from './chi-square.js';
import { midranks } from './midranks.js';
import { type PermutationOptions, type PValueMethod, USUAL_PERMUTATIONS } from './permutation-options.js';
import { permutationTail } from './permutation-tail.js';

/** Friedman's test of a complete table, with Kendall's W, which is the same figure on a scale of 0 to 1. */
export type FriedmanResult = {
  readonly tasters: number;
  readonly cups: number;
  readonly rankSums: readonly number[];
  /** null when every taster ties every cup: the statistic is 0/0 */
  readonly statistic: number | null;
  readonly df: number;
  readonly p: number;
  readonly method: PValueMethod;
  /** the chi-square approximation, whatever the method */
  readonly pChiSquare: number;
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
  const shape = { tasters: rows.length, cups, rankSums, df };
  if (spread === 0) {
    return { ...shape, statistic: null, p: 1, method: 'exact', pChiSquare: 1, w: null };
  }
  const statistic = (squares * df) / spread;
  const pChiSquare = chiSquareUpperTail(statistic, df);
  const tail = permutationTail(centred, squares, options) ?? { p: pChiSquare, method: 'chi-square' };
  return { ...shape, statistic, ...tail, pChiSquare, w: squares / (rows.length * spread) };
}

function sumOfSquares(values: readonly number[]): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}

function columnSums(rows: readonly (readonly number[])[], columns: number): readonly number[] {
  const sums = new Array<number>(columns).fill(0);
  for (const row of rows) {
    for (let column = 0; column < columns; column += 1)
      sums[column] = (sums[column] ?? 0) + (row[column] ?? 0);
  }
  return sums;
}
