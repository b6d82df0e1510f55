import { countArrangements, distinctArrangements, shuffle } from './arrangements.js';
import { type PermutationOptions, sampledP, type Tail } from './p-values.js';
import { type DrawBelow, seededRandom } from './seeded-random.js';
import { signTest } from './sign-test.js';

/** Packed column totals → how many arrangements lead to them. */
type States = Map<number, number>;

/**
 * Packs sorted column totals into one number and back, without making arrays: this is the inner loop. The last
 * total is not kept, because all add to 0.
 */
function packing(columns: number, reach: number) {
  const base = 2 * reach + 1;
  return {
    fits: base ** (columns - 1) < Number.MAX_SAFE_INTEGER,
    pack(totals: Int32Array): number {
      let key = 0;
      for (let column = 0; column < columns - 1; column += 1)
        key = key * base + (totals[column] ?? 0) + reach;
      return key;
    },
    unpackInto(totals: Int32Array, key: number): void {
      let rest = key;
      let sum = 0;
      for (let column = columns - 2; column >= 0; column -= 1) {
        const above = Math.floor(rest / base);
        const total = rest - above * base - reach;
        totals[column] = total;
        sum += total;
        rest = above;
      }
      totals[columns - 1] = -sum;
    },
  };
}

/** Insertion sort: a handful of totals, nearly in order already. */
function sortInPlace(totals: Int32Array): void {
  for (let at = 1; at < totals.length; at += 1) {
    const value = totals[at] ?? 0;
    let before = at - 1;
    while (before >= 0 && (totals[before] ?? 0) > value) {
      totals[before + 1] = totals[before] ?? 0;
      before -= 1;
    }
    totals[before + 1] = value;
  }
}

/** Σ value². */
export function sumOfSquares(totals: Iterable<number>): number {
  let sum = 0;
  for (const total of totals) sum += total * total;
  return sum;
}

/**
 * P(Σ column total² ≥ observed) when every row's values fall in any order alike, by adding row after row to
 * the distribution of the sorted totals. Sorting loses nothing: the rows' orders do not know the columns.
 *
 * @param rows whole numbers that add to 0 in each row
 * @param observed the statistic of the table as it is
 * @param workAllowed additions to spend
 * @returns the probability, or null when the table is too large for the work allowed
 */
function exactTail(
  rows: readonly (readonly number[])[],
  observed: number,
  workAllowed: number,
): number | null {
  const columns = rows[0]?.length ?? 0;
  const reach = rows.reduce((sum, row) => sum + Math.max(...row.map(Math.abs)), 0);
  const { pack, unpackInto, fits } = packing(columns, reach);
  if (!fits) return null;
  const totals = new Int32Array(columns);
  const sums = new Int32Array(columns);
  let work = 0;
  let states: States = new Map([[pack(totals), 1]]);
  for (const row of rows) {
    work += states.size * countArrangements(row);
    if (work > workAllowed) return null;
    const arrangements = distinctArrangements(row).map((arrangement) => Int32Array.from(arrangement));
    const next: States = new Map();
    for (const [key, ways] of states) {
      unpackInto(totals, key);
      for (const arrangement of arrangements) {
        for (let column = 0; column < columns; column += 1) {
          sums[column] = (totals[column] ?? 0) + (arrangement[column] ?? 0);
        }
        sortInPlace(sums);
        const sumKey = pack(sums);
        next.set(sumKey, (next.get(sumKey) ?? 0) + ways);
      }
    }
    states = next;
  }
  let tail = 0;
  let all = 0;
  for (const [key, ways] of states) {
    unpackInto(totals, key);
    if (sumOfSquares(totals) >= observed) tail += ways;
    all += ways;
  }
  return tail / all;
}

function compareRows(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
}

/** Large tables ask for many p-values at once, so each may take this fraction of the work. */
const LARGE_TABLE_SPARES = 50;

/** Above this many distinct orders a row is shuffled instead of looked up. */
const MOST_LISTED = 720;

/** Returns a function that puts one random order of each row into the totals. */
function randomOrders(
  rows: readonly (readonly number[])[],
  drawBelow: DrawBelow,
): (totals: Int32Array) => void {
  const known = new Map<string, readonly Int32Array[]>();
  const ordersOf = (row: readonly number[]) => {
    const key = row.join();
    const orders = known.get(key) ?? distinctArrangements(row).map((order) => Int32Array.from(order));
    known.set(key, orders);
    return orders;
  };
  const listed = rows.filter((row) => countArrangements(row) <= MOST_LISTED).map(ordersOf);
  const shuffled = rows.filter((row) => countArrangements(row) > MOST_LISTED).map((row) => [...row]);
  const add = (totals: Int32Array, order: ArrayLike<number>) => {
    for (let column = 0; column < totals.length; column += 1) {
      totals[column] = (totals[column] ?? 0) + (order[column] ?? 0);
    }
  };
  return (totals) => {
    for (const orders of listed) add(totals, orders[drawBelow(orders.length)] ?? []);
    for (const row of shuffled) {
      shuffle(row, drawBelow);
      add(totals, row);
    }
  };
}

function sampledTail(
  rows: readonly (readonly number[])[],
  observed: number,
  options: PermutationOptions,
): number {
  const addRandomOrders = randomOrders(rows, seededRandom(options.seed));
  const totals = new Int32Array(rows[0]?.length ?? 0);
  return sampledP(() => {
    totals.fill(0);
    addRandomOrders(totals);
    return sumOfSquares(totals) >= observed;
  }, options);
}

/** With two columns and rows of ±1 it is the sign test, exact for any number of tasters. */
function pairedTail(rows: readonly (readonly number[])[], observed: number): number | null {
  if (rows.some((row) => row.length !== 2 || row[1] !== 1)) return null;
  const ahead = Math.round(Math.sqrt(observed / 2));
  const wins = (rows.length + ahead) / 2;
  return signTest(wins, rows.length - wins);
}

/** Whether listing arrangements costs more than `work` for certain: each telling row's own, with a single state. */
function isTooMuch(rows: readonly (readonly number[])[], work: number): boolean {
  let least = 0;
  for (const row of rows) {
    if (row.every((value) => value === row[0])) continue;
    least += countArrangements(row);
    if (least > work) return true;
  }
  return false;
}

/**
 * P(Σ column total² ≥ observed) when each row's values could stand in any order: exact when the work allows,
 * else from a seeded sample for small tables, else null. Rows are put in an order of their own first, so that
 * neither the order nor the names of tasters and cups can change the answer.
 *
 * @param rows whole numbers that add to 0 in each row, one row per taster; rows of 0 alone may be left out
 * @param tasters of the table, rows left out included
 */
export function permutationTail(
  rows: readonly (readonly number[])[],
  observed: number,
  options: PermutationOptions,
  tasters = rows.length,
): Tail | null {
  const isSmall = tasters <= options.smallTable;
  // In a large table a rare attribute still leaves few telling rows, and chi-square would not do for them.
  const work = isSmall ? options.exactWork : options.exactWork / LARGE_TABLE_SPARES;
  if (!isSmall && (rows[0]?.length ?? 0) > 2 && isTooMuch(rows, work)) return null;
  const telling = rows
    .map((row) => [...row].sort((a, b) => a - b))
    .filter((row) => row[0] !== row.at(-1))
    .sort(compareRows);
  if (telling.length === 0) return { p: 1, method: 'exact' };
  const paired = pairedTail(telling, observed);
  if (paired !== null) return { p: paired, method: 'exact' };
  const exact = exactTail(telling, observed, work);
  if (exact !== null) return { p: exact, method: 'exact' };
  if (!isSmall) return null;
  return { p: sampledTail(telling, observed, options), method: 'permutation' };
}
