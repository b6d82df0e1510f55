import { countArrangements, distinctArrangements } from './arrangements.js';

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

function sumOfSquares(totals: Int32Array): number {
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
export function exactTail(
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
