import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { addScores, countArrangements, distinctArrangements, rearranger } from './arrangements.js';
import { chiSquareTail, type PermutationOptions, sampledP, type Tail } from './p-values.js';
import { sumOfSquares } from './permutation-tail.js';
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
type Form = { readonly df: number; readonly statisticOf: (totals: readonly number[]) => number };

/** V = Σ variance × (1 on the diagonal, −1/(m − 1) between the block's other columns). */
function covariance(blocks: readonly Block[], columns: number): Matrix {
  const matrix = Matrix.zeros(columns, columns);
  for (const { columns: seen, variance } of blocks) {
    const between = -variance / (seen.length - 1);
    for (const a of seen) {
      for (const b of seen) matrix.set(a, b, matrix.get(a, b) + (a === b ? variance : between));
    }
  }
  return matrix;
}

/** The form along the eigenvectors that vary: fewer than the columns, as the totals add up to 0. */
function formOf(matrix: Matrix): Form {
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(matrix, {
    assumeSymmetric: true,
  });
  const floor = Math.max(0, ...realEigenvalues) * 1e-9;
  const axes = realEigenvalues.flatMap((value, index) =>
    value > floor ? [eigenvectorMatrix.getColumn(index).map((part) => part / Math.sqrt(value))] : [],
  );
  const statisticOf: Form['statisticOf'] = (totals) =>
    sumOfSquares(axes.map((axis) => axis.reduce((dot, part, at) => dot + part * (totals[at] ?? 0), 0)));
  return { df: axes.length, statisticOf };
}

/**
 * Tests whether columns differ when each block holds only some of them: the quadratic form of the column totals
 * in the inverse of their covariance under the null, rank of that matrix degrees of freedom. Every block with
 * two columns or more takes part. p: every arrangement within blocks when few, a seeded sample for small
 * tables, else chi-square.
 *
 * @param blocks one for each taster of the table, in an order that does not depend on labels (the sample follows it)
 */
export function blockTest(blocks: readonly Block[], columns: number, options: PermutationOptions): BlockTest {
  const telling = blocks.filter(({ scores, variance }) => scores.length > 1 && variance > 0);
  const matrix = covariance(telling, columns);
  const totals = new Array<number>(columns).fill(0);
  for (const block of telling) addScores(totals, block);
  const variances = matrix.diagonal();
  const { df, statisticOf } = formOf(matrix);
  const moving = telling.filter(({ scores }) => scores.some((score) => score !== scores[0]));
  if (df === 0 || moving.length === 0) {
    return { statistic: null, df, p: 1, method: 'exact', totals, variances };
  }
  const statistic = statisticOf(totals);
  const reached = statistic * (1 - 1e-9) - 1e-12;
  const isAsExtreme = (sums: readonly number[]) => statisticOf(sums) >= reached;
  const isSmall = blocks.length <= options.smallTable;
  const tail = tailOf(moving, columns, isAsExtreme, options, isSmall) ?? chiSquareTail(statistic, df);
  return { statistic, df, ...tail, totals, variances };
}

function tailOf(
  blocks: readonly Block[],
  columns: number,
  isAsExtreme: (totals: readonly number[]) => boolean,
  options: PermutationOptions,
  isSmall: boolean,
): Tail | null {
  const most = options.exactWork / WORK_PER_ARRANGEMENT;
  const arrangements = blocks.reduce((product, { scores }) => product * countArrangements(scores), 1);
  if (arrangements <= most) {
    const extreme = countExtreme(blocks, new Array<number>(columns).fill(0), isAsExtreme);
    return { p: extreme / arrangements, method: 'exact' };
  }
  if (!isSmall) return null;
  const drawBelow = seededRandom(options.seed);
  const rearrange = blocks.map((block) => rearranger(block, drawBelow));
  const p = sampledP(() => {
    const totals = new Array<number>(columns).fill(0);
    for (const addTo of rearrange) addTo(totals);
    return isAsExtreme(totals);
  }, options);
  return { p, method: 'permutation' };
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
    addScores(sums, { columns: first.columns, scores });
    count += countExtreme(rest, sums, isAsExtreme);
  }
  return count;
}
