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

/** What the tests of all attributes of one table share. */
export type CochranTable = {
  readonly cups: number;
  /** one row per taster: 0 for a cup that they noted, null for one that they did not */
  readonly noted: SparseRows;
  /** per taster the columns noted, ascending */
  readonly seen: readonly (readonly number[])[];
  /** whether every taster had every cup */
  readonly complete: boolean;
  readonly unableToCompare: number;
};

/** Per taster the columns where they found an attribute, each noted; null for who found it nowhere. */
export type FoundColumns = readonly (readonly number[] | null)[];

/** @param noted one row per taster, 0 for a cup that they noted, null for one that they did not */
export function cochranTable(noted: SparseRows, cups: number): CochranTable {
  const seen = noted.map((row) => row.flatMap((score, column) => (score === null ? [] : [column])));
  return {
    cups,
    noted,
    seen,
    complete: seen.every(({ length }) => length === cups),
    unableToCompare: seen.filter(({ length }) => length < 2).length,
  };
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

function columnTotalsOf(found: FoundColumns, cups: number): readonly number[] {
  const totals = new Array<number>(cups).fill(0);
  for (const columns of found) {
    for (const column of columns ?? []) totals[column] = (totals[column] ?? 0) + 1;
  }
  return totals;
}

function completeQ(found: FoundColumns, { cups }: CochranTable, options: PermutationOptions) {
  const df = cups - 1;
  let spread = 0;
  // Whole numbers: cups × found − row total. Who found it nowhere would add zeros.
  const centred = found.flatMap((columns) => {
    if (columns === null) return [];
    const row = new Array<number>(cups).fill(-columns.length);
    for (const column of columns) row[column] = cups - columns.length;
    for (const value of row) spread += value * value;
    return [row];
  });
  const totals = totalsOf(centred, cups);
  const squares = totals.reduce((sum, total) => sum + total * total, 0);
  if (spread === 0) {
    return { q: null, df, p: 1, method: 'exact' as const, pChiSquare: 1, residuals: totals.map(() => 0) };
  }
  const q = (df * squares) / spread;
  const pChiSquare = chiSquareUpperTail(q, df);
  const tail = permutationTail(centred, squares, options, found.length) ?? {
    p: pChiSquare,
    method: 'chi-square' as const,
  };
  const residuals = standardised(
    totals,
    totals.map(() => spread / cups),
  );
  return { q, df, ...tail, pChiSquare, residuals };
}

/** A taster's centred 0/1 scores of the columns that they noted; null when they tell no cup from another. */
function toBlock(seen: readonly number[], found: readonly number[]): Block | null {
  if (found.length === 0 || found.length === seen.length) return null;
  const mean = found.length / seen.length;
  const scores = seen.map((column) => (found.includes(column) ? 1 : 0) - mean);
  return { columns: seen, scores, variance: mean * (1 - mean) };
}

/** The table's rows and columns in an order of their own, for a sample to follow. */
function canonicalBlocks(found: FoundColumns, { noted }: CochranTable) {
  const { rows, columns } = canonicalRows(
    noted.map((row, taster) => row.map((score, column) => (found[taster]?.includes(column) ? 1 : score))),
  );
  const at = (row: readonly (number | null)[], isWanted: (score: number | null) => boolean) =>
    row.flatMap((score, column) => (isWanted(score) ? [column] : []));
  const blocks = rows.flatMap(
    (row) =>
      toBlock(
        at(row, (score) => score !== null),
        at(row, (score) => score === 1),
      ) ?? [],
  );
  return { blocks, columns };
}

/** Large tables draw no sample, so nothing depends on the order of their rows and columns. */
function blocksAsGiven(found: FoundColumns, { cups, seen }: CochranTable) {
  const blocks: Block[] = [];
  found.forEach((columns, taster) => {
    const block = columns === null ? null : toBlock(seen[taster] ?? [], columns);
    if (block !== null) blocks.push(block);
  });
  return { blocks, columns: Array.from({ length: cups }, (_, column) => column) };
}

function incompleteQ(found: FoundColumns, table: CochranTable, options: PermutationOptions) {
  const { cups } = table;
  const isLarge = found.length > options.smallTable;
  const { blocks, columns } = isLarge ? blocksAsGiven(found, table) : canonicalBlocks(found, table);
  const {
    statistic: q,
    totals,
    variances,
    df,
    p,
    method,
    pChiSquare,
  } = blockTest(blocks, cups, found.length, options);
  const inOrder = standardised(totals, variances);
  const residuals = new Array<number>(cups).fill(0);
  columns.forEach((column, position) => {
    residuals[column] = inOrder[position] ?? 0;
  });
  return { q, df, p, method, pChiSquare, residuals };
}

/**
 * Cochran's Q for one attribute over tasters (rows: 1 found, 0 not found, null did not note the cup) and cups
 * (W. G. Cochran, 1950, Biometrika 37:256–266): (k − 1) (k Σ C_j² − N²) / (k N − Σ L_i²) for k cups, C_j tasters who
 * found it in cup j, L_i cups in which taster i found it, and N all findings.
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
  const found = rows.map((row) => row.flatMap((value, column) => (value === 1 ? [column] : [])));
  const noted = rows.map((row) => row.map((value) => (value === null ? null : 0)));
  return cochranQOf(
    found.map((columns) => (columns.length === 0 ? null : columns)),
    cochranTable(noted, cups),
    options,
  );
}

/** The same for one attribute of a table whose cups and tasters are known already. */
export function cochranQOf(
  found: FoundColumns,
  table: CochranTable,
  options: PermutationOptions = USUAL_PERMUTATIONS,
): CochranResult {
  const { cups, complete, unableToCompare } = table;
  const result = complete ? completeQ(found, table, options) : incompleteQ(found, table, options);
  return { ...result, columnTotals: columnTotalsOf(found, cups), complete, unableToCompare };
}
