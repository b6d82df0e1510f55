import type { SparseRows } from '../stats/canonical-rows.js';
import type { TasterRanks } from './taster-ranks.js';

/** The placings that can be compared: tasters who placed two cups or more, cups that one of them placed. */
export type RankTable = {
  readonly ids: readonly string[];
  readonly rows: SparseRows;
  /** whether every taster placed every cup */
  readonly complete: boolean;
  /** the tasters of the rows */
  readonly tasters: readonly string[];
  /** tasters who placed a single cup, or none beside another, and so compare nothing */
  readonly placedOne: readonly string[];
};

/** Leaves out cups that nobody placed: they are missing from the table, not last. */
export function rankTable(ids: readonly string[], ranked: readonly TasterRanks[]): RankTable {
  const compares = ({ ranks }: TasterRanks) => ranks.filter((rank) => rank !== null).length > 1;
  const compared = ranked.filter(compares);
  const columns = ids
    .map((_, column) => column)
    .filter((column) => compared.some(({ ranks }) => (ranks[column] ?? null) !== null));
  const rows = compared.map(({ ranks }) => columns.map((column) => ranks[column] ?? null));
  return {
    ids: columns.map((column) => ids[column] ?? ''),
    rows,
    complete: rows.every((row) => row.every((rank) => rank !== null)),
    tasters: compared.map(({ taster }) => taster),
    placedOne: ranked.filter((row) => !compares(row)).map(({ taster }) => taster),
  };
}

/** bothPlaced[a][b]: tasters who placed cup a and cup b. */
export function bothPlaced(rows: SparseRows, cups: number): readonly (readonly number[])[] {
  const both = Array.from({ length: cups }, () => new Array<number>(cups).fill(0));
  for (const row of rows) {
    for (const [a, own] of both.entries()) {
      if ((row[a] ?? null) === null) continue;
      for (let b = 0; b < cups; b += 1) if ((row[b] ?? null) !== null) own[b] = (own[b] ?? 0) + 1;
    }
  }
  return both;
}

/** The rows without gaps, for methods that need every rank. */
export function completeRows(rows: SparseRows): readonly (readonly number[])[] {
  return rows.filter((row): row is readonly number[] => row.every((rank) => rank !== null));
}
