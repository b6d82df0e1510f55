import { type Block, blockTest } from './block-test.js';
import { canonicalRows, completeRows, type SparseRows } from './canonical-rows.js';
import { type PermutationOptions, type Tail, USUAL_PERMUTATIONS } from './p-values.js';
import { columnsTest } from './permutation-tail.js';

/** Whether cups differ in how many tasters find an attribute in them. */
export type CochranResult = Tail & {
  /** null when no taster tells any cup from another: the statistic is 0/0 */
  readonly q: number | null;
  readonly df: number;
  /** tasters who found it, by cup */
  readonly columnTotals: readonly number[];
  /** standardised residual of each column total (S. J. Haberman, 1973, Biometrics 29:205–220); 0 when none */
  readonly residuals: readonly number[];
};

/**
 * Cochran's Q for one attribute over tasters and cups (W. G. Cochran, 1950, Biometrika 37:256–266): (k − 1) (k Σ C_j² −
 * N²) / (k N − Σ L_i²) for k cups, C_j tasters who found it in cup j, L_i cups in which taster i found it, and N all
 * findings.
 *
 * When a taster skipped a cup the statistic is the generalised Mantel–Haenszel one stratified by taster
 * (J. R. Landis, E. R. Heyman & G. G. Koch, 1978, International Statistical Review 46:237–254), which is
 * Cochran's Q when nobody skipped. So everyone with two cups or more counts, on the cups that they noted.
 *
 * @param rows one per taster: 1 for a cup that they found it in, 0 for one that they noted without it, null for one
 * that they did not note
 * @throws {RangeError} when rows differ in length or there are fewer than two cups
 */
export function cochranQ(rows: SparseRows, options: PermutationOptions = USUAL_PERMUTATIONS): CochranResult {
  const cups = rows[0]?.length ?? 0;
  if (cups < 2 || rows.some((row) => row.length !== cups)) {
    throw new RangeError("Cochran's Q needs rows of one length, two cups or more.");
  }
  const columnTotals = Array.from({ length: cups }, (_, cup) => rows.filter((row) => row[cup] === 1).length);
  const complete = completeRows(rows);
  return complete.length === rows.length
    ? { columnTotals, ...completeQ(complete, cups, options) }
    : { columnTotals, ...incompleteQ(rows, cups, options) };
}

type Tested = Omit<CochranResult, 'columnTotals'>;

function standardised(distance: number, variance: number): number {
  return variance > 1e-12 ? distance / Math.sqrt(variance) : 0;
}

function completeQ(rows: readonly (readonly number[])[], cups: number, options: PermutationOptions): Tested {
  // Whole numbers: cups × found − row total.
  const centred = rows.map((row) => {
    const found = row.filter((score) => score === 1).length;
    return row.map((score) => cups * score - found);
  });
  const { statistic, totals, spread, ...test } = columnsTest(centred, cups, options);
  return { q: statistic, ...test, residuals: totals.map((total) => standardised(total, spread / cups)) };
}

/** A taster's centred 0/1 scores of the columns that they noted. */
function toBlock(row: readonly (number | null)[]): Block {
  // Who found it nowhere tells no cup from another: most tasters, of most attributes.
  if (!row.includes(1)) return { columns: [], scores: [], variance: 0 };
  const columns = row.flatMap((score, column) => (score === null ? [] : [column]));
  const mean = row.filter((score) => score === 1).length / columns.length;
  const scores = columns.map((column) => (row[column] ?? 0) - mean);
  return { columns, scores, variance: mean * (1 - mean) };
}

function incompleteQ(found: SparseRows, cups: number, options: PermutationOptions): Tested {
  // Large tables draw no sample, so nothing depends on the order of their rows and columns.
  const { rows, columns } =
    found.length > options.smallTable
      ? { rows: found, columns: Array.from({ length: cups }, (_, column) => column) }
      : canonicalRows(found);
  const { statistic, df, p, method, totals, variances } = blockTest(rows.map(toBlock), cups, options);
  const residuals = new Array<number>(cups).fill(0);
  columns.forEach((column, position) => {
    residuals[column] = standardised(totals[position] ?? 0, variances[position] ?? 0);
  });
  return { q: statistic, df, p, method, residuals };
}
