import { type Block, blockTest } from './block-test.js';
import { canonicalRows, type SparseRows } from './canonical-rows.js';
import { chiSquareUpperTail } from './chi-square.js';
import { type PermutationOptions, USUAL_PERMUTATIONS } from './permutation-options.js';
import { permutationTail, type Tail } from './permutation-tail.js';

/** Whether cups differ in how many tasters find an attribute in them. */
export type CochranResult = Tail & {
  /** null when no taster tells any cup from another: the statistic is 0/0 */
  readonly q: number | null;
  readonly df: number;
  readonly pChiSquare: number;
  /** tasters who found it, by cup */
  readonly columnTotals: readonly number[];
  /** standardised residual of each column total (S. J. Haberman, 1973, Biometrics 29:205–220); 0 when none */
  readonly residuals: readonly number[];
  /** whether every taster had every cup */
  readonly complete: boolean;
  /** tasters with one cup or none, who cannot compare */
  readonly unableToCompare: number;
};

function standardised(distances: readonly number[], variances: readonly number[]): readonly number[] {
  return distances.map((distance, column) => {
    const variance = variances[column] ?? 0;
    return variance > 1e-12 ? distance / Math.sqrt(variance) : 0;
  });
}

function totalsOf(rows: SparseRows, columns: number): readonly number[] {
  const totals = new Array<number>(columns).fill(0);
  for (const row of rows) {
    for (let column = 0; column < columns; column += 1) {
      totals[column] = (totals[column] ?? 0) + (row[column] ?? 0);
    }
  }
  return totals;
}

function countSeen(row: readonly (number | null)[]): number {
  let seen = 0;
  for (const value of row) if (value !== null) seen += 1;
  return seen;
}

function completeQ(rows: readonly (readonly number[])[], cups: number, options: PermutationOptions) {
  const df = cups - 1;
  // Whole numbers: cups × found − row total.
  const centred = rows.map((row) => {
    const found = row.reduce((sum, value) => sum + value, 0);
    return row.map((value) => cups * value - found);
  });
  const totals = totalsOf(centred, cups);
  const squares = totals.reduce((sum, total) => sum + total * total, 0);
  const spread = centred.flat().reduce((sum, value) => sum + value * value, 0);
  if (spread === 0) {
    return { q: null, df, p: 1, method: 'exact' as const, pChiSquare: 1, residuals: totals.map(() => 0) };
  }
  const q = (df * squares) / spread;
  const pChiSquare = chiSquareUpperTail(q, df);
  const tail = permutationTail(centred, squares, options) ?? { p: pChiSquare, method: 'chi-square' as const };
  const residuals = standardised(
    totals,
    totals.map(() => spread / cups),
  );
  return { q, df, ...tail, pChiSquare, residuals };
}

/** A taster's row as a block of centred 0/1 scores; null when it tells no cup from another. */
function toBlock(row: readonly (number | null)[]): Block | null {
  let seen = 0;
  let found = 0;
  for (const value of row) {
    if (value === null) continue;
    seen += 1;
    found += value;
  }
  if (found === 0 || found === seen) return null;
  const mean = found / seen;
  const columns: number[] = [];
  const scores: number[] = [];
  row.forEach((value, column) => {
    if (value === null) return;
    columns.push(column);
    scores.push(value - mean);
  });
  return { columns, scores, variance: mean * (1 - mean) };
}

/** Large tables draw no sample, so nothing depends on the order of their rows and columns. */
function asGiven(rows: SparseRows, cups: number) {
  return { rows, columns: Array.from({ length: cups }, (_, column) => column) };
}

function incompleteQ(rows: SparseRows, cups: number, options: PermutationOptions) {
  const canonical = rows.length > options.smallTable ? asGiven(rows, cups) : canonicalRows(rows);
  const blocks = canonical.rows.flatMap((row) => toBlock(row) ?? []);
  const {
    statistic: q,
    totals,
    variances,
    df,
    p,
    method,
    pChiSquare,
  } = blockTest(blocks, cups, rows.length, options);
  const inOrder = standardised(totals, variances);
  const residuals = new Array<number>(cups).fill(0);
  canonical.columns.forEach((column, position) => {
    residuals[column] = inOrder[position] ?? 0;
  });
  return { q, df, p, method, pChiSquare, residuals };
}

/**
 * Cochran's Q for one attribute over tasters (rows: 1 found, 0 not found, null did not note the cup) and cups
 * (W. G. Cochran, 1950, Biometrika 37:256–266).
 *
 * When a taster skipped a cup the statistic is the generalised Mantel–Haenszel one stratified by taster
 * (J. R. Landis, E. R. Heyman & G. G. Koch, 1978, International Statistical Review 46:237–254), which is
 * Cochran's Q when nobody skipped. So everyone with two cups or more counts, on the cups that they noted.
 *
 * @throws {RangeError} when rows differ in length or there are fewer than two cups
 */
export function cochranQ(rows: SparseRows, options: PermutationOptions = USUAL_PERMUTATIONS): CochranResult {
  const cups = rows[0]?.length ?? 0;
  if (cups < 2 || rows.some((row) => row.length !== cups)) {
    throw new RangeError("Cochran's Q needs rows of one length, two cups or more.");
  }
  const full = rows.filter((row): row is readonly number[] => !row.includes(null));
  const complete = full.length === rows.length;
  const result = complete ? completeQ(full, cups, options) : incompleteQ(rows, cups, options);
  const unableToCompare = rows.filter((row) => countSeen(row) < 2).length;
  return { ...result, columnTotals: totalsOf(rows, cups), complete, unableToCompare };
}
