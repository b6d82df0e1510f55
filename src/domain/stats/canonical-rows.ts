import { countArrangements, distinctArrangements } from './arrangements.js';

/** A table of scores, null where a taster has none. */
export type SparseRows = readonly (readonly (number | null)[])[];

/** The rows without gaps, for methods that need every score. */
export function completeRows(rows: SparseRows): readonly (readonly number[])[] {
  return rows.filter((row): row is readonly number[] => row.every((score) => score !== null));
}

const MOST_COLUMN_ORDERS = 120;
const ROUNDS = 2;

/** Numbers the texts by their place in the alphabet: alike texts get the same number. */
function numbered(texts: readonly string[]): readonly number[] {
  const order = new Map([...new Set(texts)].sort().map((text, number) => [text, number]));
  return texts.map((text) => order.get(text) ?? 0);
}

/**
 * Colours of the columns by what is scored in them, by whom those are scored, and so on: columns of different
 * colour differ in the table, whatever the labels (colour refinement of the table as a two-sided graph).
 */
function columnColours(rows: SparseRows, columns: number): readonly number[] {
  let colours: readonly number[] = new Array<number>(columns).fill(0);
  for (let round = 0; round < ROUNDS; round += 1) {
    const rowColours = numbered(
      rows.map((row) =>
        row
          .map((value, column) => `${value}/${colours[column]}`)
          .sort()
          .join(' '),
      ),
    );
    colours = numbered(
      Array.from({ length: columns }, (_, column) =>
        rows
          .map((row, index) => `${row[column]}/${rowColours[index]}`)
          .sort()
          .join(' '),
      ),
    );
  }
  return colours;
}

function written(rows: SparseRows, order: readonly number[]): string {
  return rows
    .map((row) => order.map((column) => row[column] ?? '').join(','))
    .sort()
    .join(';');
}

/**
 * An order of the columns that does not depend on how columns or rows were labelled: by colour, and among columns
 * of one colour that are not simply the same, the order in which the whole table reads least. (Beyond 120 such
 * orders the order given is kept.)
 */
function canonicalColumns(rows: SparseRows): readonly number[] {
  const columns = rows[0]?.length ?? 0;
  const colours = columnColours(rows, columns);
  const classes = [...new Set(colours)]
    .sort((a, b) => a - b)
    .map((colour) => colours.flatMap((own, column) => (own === colour ? [column] : [])));
  const isSettled = (members: readonly number[]) =>
    members.every((column) => rows.every((row) => row[column] === row[members[0] ?? column]));
  const open = classes.filter((members) => !isSettled(members));
  const count = open.reduce((product, members) => product * countArrangements(members), 1);
  if (count === 1 || count > MOST_COLUMN_ORDERS) return classes.flat();
  let orders: readonly (readonly number[])[] = [[]];
  for (const members of classes) {
    const tails = isSettled(members) ? [members] : distinctArrangements(members);
    orders = orders.flatMap((head) => tails.map((tail) => [...head, ...tail]));
  }
  const texts = orders.map((order) => written(rows, order));
  const [least = ''] = [...texts].sort();
  return orders[texts.indexOf(least)] ?? classes.flat();
}

/** The rows with columns in canonical order, sorted: the same for any labelling of rows and columns. */
export function canonicalRows(rows: SparseRows): {
  readonly rows: SparseRows;
  readonly columns: readonly number[];
} {
  const columns = canonicalColumns(rows);
  const ordered = rows
    .map((row) => columns.map((column) => row[column] ?? null))
    .map((row) => ({ row, text: row.map((value) => value ?? '').join(',') }))
    .sort((a, b) => (a.text < b.text ? -1 : a.text > b.text ? 1 : 0));
  return { rows: ordered.map(({ row }) => row), columns };
}
