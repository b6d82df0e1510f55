/** One value of an exported table; null is an empty cell. */
export type Cell = string | number | null;

/** A column's name and what it holds, for whoever opens the file. */
export type Column = { readonly name: string; readonly means: string };

/** One exported table: columns in order, and rows with a cell for each. */
export type ExportTable = {
  readonly name: 'tally' | 'notes' | 'placings' | 'standings' | 'trace';
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
};

/** Columns from name and meaning. */
export function columns(...pairs: readonly (readonly [name: string, means: string])[]): readonly Column[] {
  return pairs.map(([name, means]) => ({ name, means }));
}

/** Rounds a figure to `decimals` places; null stays null. */
export function rounded(value: number | null, decimals: number): number | null {
  return value === null ? null : Number(value.toFixed(decimals));
}

/** A table's rows as records by column name, for JSON. */
export function asRecords({ columns: named, rows }: ExportTable): readonly Readonly<Record<string, Cell>>[] {
  return rows.map((row) => Object.fromEntries(named.map(({ name }, index) => [name, row[index] ?? null])));
}
