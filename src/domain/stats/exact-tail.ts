import { countArrangements, distinctArrangements } from './arrangements.js';

/** packed column totals → how many arrangements lead to them */
type Totals = Map<number, number>;

/** Packs column totals into one number and back. The last total follows from the others (all add to 0). */
function packing(columns: number, reach: number) {
  const base = 2 * reach + 1;
  const pack = (totals: readonly number[]) => {
    let key = 0;
    for (let column = 0; column < columns - 1; column += 1) key = key * base + (totals[column] ?? 0) + reach;
    return key;
  };
  const unpack = (key: number) => {
    const totals = new Array<number>(columns).fill(0);
    let rest = key;
    let sum = 0;
    for (let column = columns - 2; column >= 0; column -= 1) {
      const total = (rest % base) - reach;
      totals[column] = total;
      sum += total;
      rest = Math.floor(rest / base);
    }
    totals[columns - 1] = -sum;
    return totals;
  };
  return { pack, unpack, fits: base ** (columns - 1) < Number.MAX_SAFE_INTEGER };
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
  const { pack, unpack, fits } = packing(columns, reach);
  if (!fits) return null;
  let work = 0;
  let states: Totals = new Map([[pack(new Array<number>(columns).fill(0)), 1]]);
  for (const row of rows) {
    work += states.size * countArrangements(row);
    if (work > workAllowed) return null;
    states = addRow(states, distinctArrangements(row), pack, unpack);
  }
  let tail = 0;
  let all = 0;
  for (const [key, ways] of states) {
    const statistic = unpack(key).reduce((sum, total) => sum + total * total, 0);
    if (statistic >= observed) tail += ways;
    all += ways;
  }
  return tail / all;
}

function addRow(
  states: Totals,
  arrangements: readonly (readonly number[])[],
  pack: (totals: readonly number[]) => number,
  unpack: (key: number) => readonly number[],
): Totals {
  const next: Totals = new Map();
  for (const [key, ways] of states) {
    const totals = unpack(key);
    for (const arrangement of arrangements) {
      const sums = totals.map((total, column) => total + (arrangement[column] ?? 0)).sort((a, b) => a - b);
      const sumKey = pack(sums);
      next.set(sumKey, (next.get(sumKey) ?? 0) + ways);
    }
  }
  return next;
}
