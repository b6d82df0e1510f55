import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { countArrangements, distinctArrangements, rearranger } from './arrangements.js';
import { chiSquareTail, type PermutationOptions, sampledP, type Tail } from './p-values.js';
import { seededRandom } from './seeded-random.js';

/**
 * One taster's part in a test of incomplete blocks: centred scores (they add to 0) for the columns that the
 * taster has, and how much the variance of each column's total grows by it.
 */
export type Block = {
  /** ascending */
  readonly columns: readonly number[];
  readonly scores: readonly number[];
  readonly variance: number;
};

/** The quadratic statistic of incomplete blocks. */
type BlockTest = Tail & {
  /** null when nothing varies */
  readonly statistic: number | null;
  readonly df: number;
  readonly totals: readonly number[];
  /** variance of each column's total when the table cannot tell the columns apart */
  readonly variances: readonly number[];
};

/** Listing one arrangement of all blocks costs about as much as this many additions. */
const WORK_PER_ARRANGEMENT = 10;

/** The quadratic form of totals in the inverse of their covariance, and its degrees of freedom. */
type Form = { readonly df: number; readonly statisticOf: (totals: ArrayLike<number>) => number };

/** V = Σ variance × (1 on the diagonal, −1/(m − 1) between the block's other columns). */
function covariance(blocks: readonly Block[], columns: number): Matrix {
  const rows = Array.from({ length: columns }, () => new Float64Array(columns));
  for (const { columns: seen, variance } of blocks) {
    const between = -variance / (seen.length - 1);
    for (let at = 0; at < seen.length; at += 1) {
      const a = seen[at] ?? 0;
      const row = rows[a];
      if (row === undefined) continue;
      // Half of it is enough: b before a.
      for (let before = 0; before < at; before += 1) {
        const b = seen[before] ?? 0;
        row[b] = (row[b] ?? 0) + between;
      }
      row[a] = (row[a] ?? 0) + variance;
    }
  }
  return new Matrix(rows.map((row, a) => rows.map((other, b) => (b <= a ? row[b] : other[a]) ?? 0)));
}

/** |L⁻¹ totals|² by forward substitution; the last column's total is not needed. */
function triangularForm(lower: readonly (readonly number[])[]): Form['statisticOf'] {
  const along = new Float64Array(lower.length);
  const rows = lower.map((row) => Float64Array.from(row));
  return (totals) => {
    let statistic = 0;
    let at = 0;
    for (const row of rows) {
      let left = totals[at] ?? 0;
      for (let before = 0; before < at; before += 1) left -= (row[before] ?? 0) * (along[before] ?? 0);
      const part = left / (row[at] ?? 1);
      along[at] = part;
      statistic += part * part;
      at += 1;
    }
    return statistic;
  };
}

/** The same along the eigenvectors that vary, for a covariance of lower rank. */
function spectralForm(matrix: Matrix): Form {
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(matrix, {
    assumeSymmetric: true,
  });
  const floor = Math.max(0, ...realEigenvalues) * 1e-9;
  const axes = realEigenvalues.flatMap((value, index) =>
    value > floor ? [eigenvectorMatrix.getColumn(index).map((part) => part / Math.sqrt(value))] : [],
  );
  const statisticOf: Form['statisticOf'] = (totals) =>
    axes.reduce(
      (sum, axis) => sum + axis.reduce((dot, part, at) => dot + part * (totals[at] ?? 0), 0) ** 2,
      0,
    );
  return { df: axes.length, statisticOf };
}

/**
 * When every column is tied to every other through some block, all but the last column carry everything and a
 * Cholesky factor does; otherwise (a cup nobody has, groups of cups that share no taster) the eigenvectors do.
 */
function formOf(matrix: Matrix): Form {
  const last = matrix.rows - 1;
  const factor = new CholeskyDecomposition(matrix.subMatrix(0, last - 1, 0, last - 1)).lowerTriangularMatrix;
  const diagonal = factor.diagonal();
  const isWhole = diagonal.every((value) => value > Math.max(...diagonal) * 1e-5);
  return isWhole ? { df: last, statisticOf: triangularForm(factor.to2DArray()) } : spectralForm(matrix);
}

function addScores(totals: number[], columns: readonly number[], scores: readonly number[]): void {
  columns.forEach((column, index) => {
    totals[column] = (totals[column] ?? 0) + (scores[index] ?? 0);
  });
}

/**
 * Tests whether columns differ when each block holds only some of them: the quadratic form of the column totals
 * in the inverse of their covariance under the null, rank of that matrix degrees of freedom. Every block with
 * two columns or more takes part. p: every arrangement within blocks when few, a seeded sample for small
 * tables, else chi-square.
 *
 * @param blocks in an order that does not depend on labels (the sample follows it)
 * @param tasters of the table, those without a telling block included
 */
export function blockTest(
  blocks: readonly Block[],
  columns: number,
  tasters: number,
  options: PermutationOptions,
): BlockTest {
  const telling = blocks.filter(({ scores, variance }) => scores.length > 1 && variance > 0);
  const matrix = covariance(telling, columns);
  const totals = new Array<number>(columns).fill(0);
  for (const { columns: seen, scores } of telling) addScores(totals, seen, scores);
  const variances = matrix.diagonal();
  const { df, statisticOf } = telling.length === 0 ? { df: 0, statisticOf: () => 0 } : formOf(matrix);
  const moving = telling.filter(({ scores }) => scores.some((score) => score !== scores[0]));
  if (df === 0 || moving.length === 0) {
    return { statistic: null, df, p: 1, method: 'exact', totals, variances };
  }
  const statistic = statisticOf(totals);
  const reached = statistic * (1 - 1e-9) - 1e-12;
  const isAsExtreme = (sums: readonly number[]) => statisticOf(sums) >= reached;
  const tail = tailOf(moving, columns, isAsExtreme, options, tasters) ?? chiSquareTail(statistic, df);
  return { statistic, df, ...tail, totals, variances };
}

function tailOf(
  blocks: readonly Block[],
  columns: number,
  isAsExtreme: (totals: readonly number[]) => boolean,
  options: PermutationOptions,
  tasters: number,
): Tail | null {
  const most = options.exactWork / WORK_PER_ARRANGEMENT;
  let arrangements = 1;
  for (const { scores } of blocks) {
    if (arrangements > most) break;
    arrangements *= countArrangements(scores);
  }
  if (arrangements <= most) {
    const extreme = countExtreme(blocks, new Array<number>(columns).fill(0), isAsExtreme);
    return { p: extreme / arrangements, method: 'exact' };
  }
  if (tasters > options.smallTable) return null;
  return { p: sampledTail(blocks, columns, isAsExtreme, options), method: 'permutation' };
}

function countExtreme(
  [first, ...rest]: readonly Block[],
  totals: readonly number[],
  isAsExtreme: (totals: readonly number[]) => boolean,
): number {
  if (first === undefined) return isAsExtreme(totals) ? 1 : 0;
  let count = 0;
  for (const scores of distinctArrangements(first.scores)) {
    const sums = [...totals];
    addScores(sums, first.columns, scores);
    count += countExtreme(rest, sums, isAsExtreme);
  }
  return count;
}

function sampledTail(
  blocks: readonly Block[],
  columns: number,
  isAsExtreme: (totals: readonly number[]) => boolean,
  options: PermutationOptions,
): number {
  const drawBelow = seededRandom(options.seed);
  const base = new Array<number>(columns).fill(0);
  const rearrange = blocks.map((block) => rearranger(block, drawBelow, base));
  const totals = [...base];
  return sampledP(() => {
    for (let column = 0; column < columns; column += 1) totals[column] = base[column] ?? 0;
    for (const addTo of rearrange) addTo(totals);
    return isAsExtreme(totals);
  }, options);
}
