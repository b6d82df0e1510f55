/** A table of scores, null where a taster has none. */
export type SparseRows = readonly (readonly (number | null)[])[];

const MOST_COLUMN_ORDERS = 720;

function columnSignature(rows: SparseRows, column: number): string {
  return rows
    .flatMap((row) => {
      const value = row[column];
      if (value === null || value === undefined) return [];
      const others = row.filter((other) => other !== null).sort((a, b) => a - b);
      return [`${value}<${others.join(',')}>`];
    })
    .sort()
    .join(';');
}

function ordersWithin(classes: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const [first, ...rest] = classes;
  if (first === undefined) return [[]];
  const tails = ordersWithin(rest);
  return permutations(first).flatMap((head) => tails.map((tail) => [...head, ...tail]));
}

function permutations(items: readonly number[]): readonly (readonly number[])[] {
  if (items.length <= 1) return [items];
  return items.flatMap((item) =>
    permutations(items.filter((other) => other !== item)).map((rest) => [item, ...rest]),
  );
}

function factorial(n: number): number {
  return n <= 1 ? 1 : n * factorial(n - 1);
}

function written(rows: SparseRows, order: readonly number[]): string {
  return rows
    .map((row) => order.map((column) => row[column] ?? '').join(','))
    .sort()
    .join(';');
}

/**
 * An order of the columns that does not depend on how columns or rows were labelled: by what was scored in them,
 * and among columns alike in that, the order in which the whole table reads least. (Beyond 720 orders of
 * columns alike the order given is kept.)
 */
function canonicalColumns(rows: SparseRows): readonly number[] {
  const columns = rows[0]?.length ?? 0;
  const bySignature = new Map<string, number[]>();
  for (let column = 0; column < columns; column += 1) {
    const signature = columnSignature(rows, column);
    bySignature.set(signature, [...(bySignature.get(signature) ?? []), column]);
  }
  const classes = [...bySignature].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, members]) => members);
  const count = classes.reduce((product, members) => product * factorial(members.length), 1);
  if (count === 1 || count > MOST_COLUMN_ORDERS) return classes.flat();
  let best: { order: readonly number[]; text: string } | null = null;
  for (const order of ordersWithin(classes)) {
    const text = written(rows, order);
    if (best === null || text < best.text) best = { order, text };
  }
  return best?.order ?? classes.flat();
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
