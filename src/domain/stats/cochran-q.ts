import { type Block, blockTest } from './block-test.js';
import { canonicalRows, type SparseRows } from './canonical-rows.js';
import { chiSquareTail, type PermutationOptions, type Tail, USUAL_PERMUTATIONS } from './p-values.js';
import { permutationTail, sumOfSquares } from './permutation-tail.js';

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

/** What the tests of all attributes of one table share: who noted which cup. */
export type CochranTable = {
  readonly cups: number;
  /** one row per taster: 0 for a cup that they noted, null for one that they did not */
  readonly noted: SparseRows;
  /** per taster the columns noted, ascending */
  readonly seen: readonly (readonly number[])[];
};

/** Per taster the columns where they found an attribute, each noted; null for who found it nowhere. */
export type FoundColumns = readonly (readonly number[] | null)[];

/**
 * @param noted one row per taster, 0 for a cup that they noted, null for one that they did not
 * @throws {RangeError} when rows differ in length or there are fewer than two cups
 */
export function cochranTable(noted: SparseRows): CochranTable {
  const cups = noted[0]?.length ?? 0;
  if (cups < 2 || noted.some((row) => row.length !== cups)) {
    throw new RangeError("Cochran's Q needs rows of one length, two cups or more.");
  }
  const seen = noted.map((row) => row.flatMap((score, column) => (score === null ? [] : [column])));
  return { cups, noted, seen };
}

/**
 * Cochran's Q for one attribute over tasters and cups (W. G. Cochran, 1950, Biometrika 37:256–266): (k − 1) (k Σ C_j² −
 * N²) / (k N − Σ L_i²) for k cups, C_j tasters who found it in cup j, L_i cups in which taster i found it, and N all
 * findings.
 *
 * When a taster skipped a cup the statistic is the generalised Mantel–Haenszel one stratified by taster
 * (J. R. Landis, E. R. Heyman & G. G. Koch, 1978, International Statistical Review 46:237–254), which is
 * Cochran's Q when nobody skipped. So everyone with two cups or more counts, on the cups that they noted.
 */
export function cochranQ(
  found: FoundColumns,
  table: CochranTable,
  options: PermutationOptions = USUAL_PERMUTATIONS,
): CochranResult {
  const columnTotals = new Array<number>(table.cups).fill(0);
  for (const column of found.flatMap((columns) => columns ?? [])) {
    columnTotals[column] = (columnTotals[column] ?? 0) + 1;
  }
  const isComplete = table.seen.every(({ length }) => length === table.cups);
  return { columnTotals, ...(isComplete ? completeQ : incompleteQ)(found, table, options) };
}

type Tested = Omit<CochranResult, 'columnTotals'>;

function standardised(distance: number, variance: number): number {
  return variance > 1e-12 ? distance / Math.sqrt(variance) : 0;
}

function completeQ(found: FoundColumns, { cups }: CochranTable, options: PermutationOptions): Tested {
  const df = cups - 1;
  const totals = new Array<number>(cups).fill(0);
  let spread = 0;
  // Whole numbers: cups × found − row total. Who found it nowhere would add zeros.
  const centred = found.flatMap((columns) => {
    if (columns === null) return [];
    const row = new Array<number>(cups).fill(-columns.length);
    for (const column of columns) row[column] = cups - columns.length;
    row.forEach((value, column) => {
      spread += value * value;
      totals[column] = (totals[column] ?? 0) + value;
    });
    return [row];
  });
  if (spread === 0) return { q: null, df, p: 1, method: 'exact', residuals: totals.map(() => 0) };
  const squares = sumOfSquares(totals);
  const q = (df * squares) / spread;
  const tail = permutationTail(centred, squares, options, found.length) ?? chiSquareTail(q, df);
  return { q, df, ...tail, residuals: totals.map((total) => standardised(total, spread / cups)) };
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

function incompleteQ(found: FoundColumns, table: CochranTable, options: PermutationOptions): Tested {
  const isLarge = found.length > options.smallTable;
  const { blocks, columns } = isLarge ? blocksAsGiven(found, table) : canonicalBlocks(found, table);
  const test = blockTest(blocks, table.cups, found.length, options);
  const residuals = new Array<number>(table.cups).fill(0);
  columns.forEach((column, position) => {
    residuals[column] = standardised(test.totals[position] ?? 0, test.variances[position] ?? 0);
  });
  return { q: test.statistic, df: test.df, p: test.p, method: test.method, residuals };
}
