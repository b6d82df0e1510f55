import { type Block, blockTest } from './block-test.js';
import { canonicalRows, type SparseRows } from './canonical-rows.js';
import { midranks } from './midranks.js';
import { type PermutationOptions, USUAL_PERMUTATIONS } from './permutation-options.js';
import type { Tail } from './permutation-tail.js';

/** Friedman's question asked of a table with gaps. */
export type SkillingsMackResult = Tail & {
  /** null when every taster ties all that they placed, or nobody placed two cups */
  readonly statistic: number | null;
  readonly df: number;
  readonly pChiSquare: number;
  /** one per cup, the lowest best; 0 on average when the cups are alike */
  readonly weightedRankSums: readonly number[];
};

type Ranked = { readonly columns: readonly number[]; readonly doubled: readonly number[] };

function rankRow(row: readonly (number | null)[]): Ranked {
  const seen = row.flatMap((value, column) => (value === null ? [] : [{ value, column }]));
  const ranks = midranks(seen.map(({ value }) => value));
  return {
    columns: seen.map(({ column }) => column),
    doubled: ranks.map((rank) => 2 * rank - (seen.length + 1)),
  };
}

/** √(12 / (m + 1)) for a taster who placed m cups. */
function weight(placed: number): number {
  return Math.sqrt(12 / (placed + 1));
}

/**
 * A_j = Σ √(12 / (m_i + 1)) × (rank_ij − (m_i + 1) / 2) over the tasters i who placed cup j among m_i cups. Whole
 * doubled ranks are summed per m first, so the order of tasters cannot move the last bit.
 */
export function weightedRankSums(rows: SparseRows): readonly number[] {
  const cups = rows[0]?.length ?? 0;
  const byPlaced = new Map<number, number[]>();
  for (const row of rows) {
    const { columns, doubled } = rankRow(row);
    const sums = byPlaced.get(columns.length) ?? new Array<number>(cups).fill(0);
    byPlaced.set(columns.length, sums);
    columns.forEach((column, index) => {
      sums[column] = (sums[column] ?? 0) + (doubled[index] ?? 0);
    });
  }
  const ordered = [...byPlaced].sort(([a], [b]) => a - b);
  return Array.from({ length: cups }, (_, cup) =>
    ordered.reduce((sum, [placed, sums]) => sum + (weight(placed) * (sums[cup] ?? 0)) / 2, 0),
  );
}

/**
 * Skillings–Mack test (J. H. Skillings & G. A. Mack, 1981, Technometrics 23:171–177): Friedman's test for blocks
 * with missing values, and equal to it when none is missing and none tied. Ties get midranks; the published
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
  const blocks = ordered.map(toBlock).filter(({ columns }) => columns.length > 1);
  const { statistic, df, p, method, pChiSquare } = blockTest(blocks, cups, rows.length, options);
  return { statistic, df, p, method, pChiSquare, weightedRankSums: weightedRankSums(rows) };
}

function toBlock(row: readonly (number | null)[]): Block {
  const { columns, doubled } = rankRow(row);
  const placed = columns.length;
  return { columns, scores: doubled.map((rank) => (weight(placed) * rank) / 2), variance: placed - 1 };
}
