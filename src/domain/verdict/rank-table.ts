import type { SparseRows } from '../stats/canonical-rows.js';
import type { TasterRanks } from './taster-ranks.js';

/** The placings that can be compared: tasters who placed two cups or more, cups that one of them placed. */
export type RankTable = {
  readonly ids: readonly string[];
  readonly rows: SparseRows;
  /** whether every taster placed every cup */
  readonly complete: boolean;
};

/** Leaves out cups that nobody placed: they are missing from the table, not last. */
export function rankTable(ids: readonly string[], ranked: readonly TasterRanks[]): RankTable {
  const columns = ids
    .map((_, column) => column)
    .filter((column) => ranked.some(({ ranks }) => ranks[column] != null));
  const rows = ranked.map(({ ranks }) => columns.map((column) => ranks[column] ?? null));
  return {
    ids: columns.map((column) => ids[column] ?? ''),
    rows,
    complete: rows.every((row) => row.every((rank) => rank !== null)),
  };
}

/** bothPlaced[a][b]: tasters who placed cup a and cup b. */
export function bothPlaced(rows: SparseRows, cups: number): readonly (readonly number[])[] {
  return Array.from({ length: cups }, (_, a) =>
    Array.from({ length: cups }, (__, b) => rows.filter((row) => row[a] !== null && row[b] !== null).length),
  );
}

/** The rows without gaps, for methods that need every rank. */
export function completeRows(rows: SparseRows): readonly (readonly number[])[] {
  return rows.filter((row): row is readonly number[] => row.every((rank) => rank !== null));
}
