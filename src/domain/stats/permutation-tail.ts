import { countArrangements, distinctArrangements, shuffle } from './arrangements.js';
import { chiSquareTail, type PermutationOptions, sampledP, type Tail } from './p-values.js';
import { seededRandom } from './seeded-random.js';
import { signTest } from './sign-test.js';

type Rows = readonly (readonly number[])[];

/** Σ value². */
export function sumOfSquares(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value * value, 0);
}

/** Σ of each column. */
export function columnSums(rows: Rows, columns: number): readonly number[] {
  const sums = new Array<number>(columns).fill(0);
  for (const row of rows) {
    for (let column = 0; column < columns; column += 1)
      sums[column] = (sums[column] ?? 0) + (row[column] ?? 0);
  }
  return sums;
}

/** Friedman's statistic of a complete table, null when nothing varies (it is 0/0), and what it rests on. */
type ColumnsTest = Tail & {
  readonly statistic: number | null;
  readonly df: number;
  readonly totals: readonly number[];
  /** Σ value² of the whole table */
  readonly spread: number;
};

/**
 * Tests whether columns differ: (k − 1) Σ column total² / Σ value² for k columns. The p-value is exact or from a
 * seeded permutation sample for small tables, else chi-square.
 *
 * @param rows whole numbers that add to 0 in each row, one row per taster
 */
export function columnsTest(rows: Rows, columns: number, options: PermutationOptions): ColumnsTest {
  const totals = columnSums(rows, columns);
  const squares = sumOfSquares(totals);
  const spread = sumOfSquares(rows.flat());
  const df = columns - 1;
  if (spread === 0) return { statistic: null, df, totals, spread, p: 1, method: 'exact' };
  const statistic = (df * squares) / spread;
  const tail = permutationTail(rows, squares, options) ?? chiSquareTail(statistic, df);
  return { statistic, df, totals, spread, ...tail };
}

/**
 * P(Σ column total² ≥ observed) when every row's values fall in any order alike, by adding row after row to
 * the distribution of the sorted totals. Sorting loses nothing: the rows' orders do not know the columns.
 *
 * @param workAllowed additions to spend
 * @returns the probability, or null when the table is too large for the work allowed
 */
function exactTail(rows: Rows, observed: number, workAllowed: number): number | null {
  const columns = rows[0]?.length ?? 0;
  const reach = rows.reduce((sum, row) => sum + Math.max(...row.map(Math.abs)), 0);
  const base = 2 * reach + 1;
  // Totals are told apart by one whole number; the first of them is not needed, because all add to 0.
  if (base ** (columns - 1) >= Number.MAX_SAFE_INTEGER) return null;
  const keyOf = ([, ...others]: readonly number[]) =>
    others.reduce((key, total) => key * base + total + reach, 0);
  let states = [{ totals: new Array<number>(columns).fill(0), ways: 1 }];
  let work = 0;
  for (const row of rows) {
    work += states.length * countArrangements(row);
    if (work > workAllowed) return null;
    const arrangements = distinctArrangements(row);
    const next = new Map<number, (typeof states)[number]>();
    for (const { totals, ways } of states) {
      for (const arrangement of arrangements) {
        const sums = totals.map((total, column) => total + (arrangement[column] ?? 0)).sort((a, b) => a - b);
        const key = keyOf(sums);
        next.set(key, { totals: sums, ways: (next.get(key)?.ways ?? 0) + ways });
      }
    }
    states = [...next.values()];
  }
  const count = (counted: typeof states) => counted.reduce((sum, { ways }) => sum + ways, 0);
  return count(states.filter(({ totals }) => sumOfSquares(totals) >= observed)) / count(states);
}

function compareRows(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
}

/** Large tables ask for many p-values at once, so each may take this fraction of the work. */
const LARGE_TABLE_SPARES = 50;

/** Above this many distinct orders a row is shuffled instead of looked up. */
const MOST_LISTED = 720;

function sampledTail(rows: Rows, observed: number, options: PermutationOptions): number {
  const drawBelow = seededRandom(options.seed);
  const isListed = (row: readonly number[]) => countArrangements(row) <= MOST_LISTED;
  const listed = rows.filter(isListed).map(distinctArrangements);
  const shuffled = rows.filter((row) => !isListed(row)).map((row) => [...row]);
  return sampledP(() => {
    const drawn = listed.map((orders) => orders[drawBelow(orders.length)] ?? []);
    for (const row of shuffled) shuffle(row, drawBelow);
    return sumOfSquares(columnSums([...drawn, ...shuffled], rows[0]?.length ?? 0)) >= observed;
  }, options);
}

/** With two columns and rows of ±1 it is the sign test, exact for any number of tasters. */
function pairedTail(rows: Rows, observed: number): number | null {
  if (rows.some((row) => row.length !== 2 || row[1] !== 1)) return null;
  const ahead = Math.round(Math.sqrt(observed / 2));
  const wins = (rows.length + ahead) / 2;
  return signTest(wins, rows.length - wins);
}

/**
 * P(Σ column total² ≥ observed) when each row's values could stand in any order: exact when the work allows,
 * else from a seeded sample for small tables, else null. Rows are put in an order of their own first, so that
 * neither the order nor the names of tasters and cups can change the answer.
 */
function permutationTail(rows: Rows, observed: number, options: PermutationOptions): Tail | null {
  const isSmall = rows.length <= options.smallTable;
  // In a large table a rare attribute still leaves few telling rows, and chi-square would not do for them.
  const work = isSmall ? options.exactWork : options.exactWork / LARGE_TABLE_SPARES;
  const telling = rows
    .map((row) => [...row].sort((a, b) => a - b))
    .filter((row) => row[0] !== row.at(-1))
    .sort(compareRows);
  const exact = pairedTail(telling, observed) ?? exactTail(telling, observed, work);
  if (exact !== null) return { p: exact, method: 'exact' };
  return isSmall ? { p: sampledTail(telling, observed, options), method: 'permutation' } : null;
}
