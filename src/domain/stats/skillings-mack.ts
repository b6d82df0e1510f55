import { type Block, blockTest } from './block-test.js';
import { canonicalRows, type SparseRows } from './canonical-rows.js';
import { midranks } from './friedman.js';
import { type PermutationOptions, type Tail, USUAL_PERMUTATIONS } from './p-values.js';

/** Friedman's question asked of a table with gaps. */
type SkillingsMackResult = Tail & {
  /** null when every taster ties all that they placed, or nobody placed two cups */
  readonly statistic: number | null;
  readonly df: number;
};

/** √(12 / (m + 1)) for a taster who placed m cups. */
function weight(placed: number): number {
  return Math.sqrt(12 / (placed + 1));
}

/**
 * A_j = Σ √(12 / (m_i + 1)) × (rank_ij − (m_i + 1) / 2) over the tasters i who placed cup j among m_i cups. Whole
 * doubled ranks are summed per m first, so the order of tasters cannot move the last bit.
 *
 * @param byPlaced number m of cups placed → per cup Σ 2 rank_ij − (m + 1) over the tasters i who placed m cups
 */
export function weightedSums(
  byPlaced: ReadonlyMap<number, readonly number[]>,
  cups: number,
): readonly number[] {
  const ordered = [...byPlaced].sort(([a], [b]) => a - b);
  return Array.from({ length: cups }, (_, cup) =>
    ordered.reduce((sum, [placed, sums]) => sum + (weight(placed) * (sums[cup] ?? 0)) / 2, 0),
  );
}

/**
 * Skillings–Mack test (J. H. Skillings & G. A. Mack, 1981, Technometrics 23:171–177): Friedman's test for blocks
 * with missing values, and equal to it when none is missing and none tied. A' Σ⁻ A for the weighted rank sums A and
 * their covariance Σ, −λ_jk for two cups that λ_jk tasters placed both, Σ_k λ_jk on the diagonal. Ties get midranks; the published
 * variance does not correct for them, so the chi-square figure is cautious with ties and the permutation
 * p-value, which keeps each taster's ties, is not affected.
 *
 * @param rows one per taster: lower is better, null is missing
 * @throws {RangeError} when rows differ in length or there are fewer than two cups
 */
export function skillingsMack(
  rows: SparseRows,
  options: PermutationOptions = USUAL_PERMUTATIONS,
): SkillingsMackResult {
  const cups = rows[0]?.length ?? 0;
  if (cups < 2 || rows.some((row) => row.length !== cups)) {
    throw new RangeError('Skillings–Mack needs rows of one length, two cups or more.');
  }
  const ordered = rows.length > options.smallTable ? rows : canonicalRows(rows).rows;
  const { statistic, df, p, method } = blockTest(ordered.map(toBlock), cups, options);
  return { statistic, df, p, method };
}

function toBlock(row: readonly (number | null)[]): Block {
  const columns = row.flatMap((value, column) => (value === null ? [] : [column]));
  const ranks = midranks(row.filter((value) => value !== null));
  const placed = columns.length;
  const middle = (placed + 1) / 2;
  return { columns, scores: ranks.map((rank) => weight(placed) * (rank - middle)), variance: placed - 1 };
}
