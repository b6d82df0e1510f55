import type { TableSetting } from '../record/table-setting.js';
import { tastingName } from '../record/tasting.js';

/** One value of an exported table; null is an empty cell. */
export type Cell = string | number | null;

/** A column's name and what it holds, for whoever opens the file. */
type Column = { readonly name: string; readonly means: string };

/** One exported table: columns in order, and rows with a cell for each. */
export type ExportTable = {
  readonly name: 'tally' | 'notes' | 'placings' | 'standings' | 'trace';
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
};

/** A column's name, what it holds, and its cell of one row. */
export type CellOf<Row> = readonly [name: string, means: string, cell: (row: Row) => Cell];

/** A table with one row for each of `rows`, the tasting in its first column. */
export function exportTable<Row>(
  name: ExportTable['name'],
  { tasting }: TableSetting,
  ownColumns: readonly CellOf<Row>[],
  rows: readonly Row[],
): ExportTable {
  const first: CellOf<Row> = ['tasting', 'the tasting, like T4', () => tastingName(tasting)];
  const columns = [first, ...ownColumns];
  return {
    name,
    columns: columns.map(([column, means]) => ({ name: column, means })),
    rows: rows.map((row) => columns.map(([, , cell]) => cell(row))),
  };
}

/** Rounds a figure to `decimals` places; null stays null. */
export function rounded(value: number | null | undefined, decimals: number): number | null {
  return value === null || value === undefined ? null : Number(value.toFixed(decimals));
}

/** A table's rows as records by column name, for JSON. */
export function asRecords({ columns, rows }: ExportTable): readonly Readonly<Record<string, Cell>>[] {
  return rows.map((row) => Object.fromEntries(columns.map(({ name }, index) => [name, row[index] ?? null])));
}
