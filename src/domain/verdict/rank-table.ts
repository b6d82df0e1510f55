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
};

/** Leaves out cups that nobody placed: they are missing from the table, not last. */
export function rankTable(ids: readonly string[], ranked: readonly TasterRanks[]): RankTable {
  const compared = ranked.filter(({ ranks }) => ranks.filter((rank) => rank !== null).length > 1);
  const columns = ids
    .map((_, column) => column)
    .filter((column) => compared.some(({ ranks }) => (ranks[column] ?? null) !== null));
  const rows = compared.map(({ ranks }) => columns.map((column) => ranks[column] ?? null));
  return {
    ids: columns.map((column) => ids[column] ?? ''),
    rows,
    complete: rows.every((row) => row.every((rank) => rank !== null)),
    tasters: compared.map(({ taster }) => taster),
  };
}

/** wins[a][b]: tasters who placed both cups and put a over b. */
export type Wins = readonly (readonly number[])[];

/** At [a][b]: the tasters who placed both cups, a at a rank that `fits` beside b's. */
function countPairs(
  rows: SparseRows,
  cups: number,
  fits: (rank: number, other: number) => boolean,
): readonly (readonly number[])[] {
  const counts = Array.from({ length: cups }, () => new Array<number>(cups).fill(0));
  for (const row of rows) {
    for (const [a, own] of counts.entries()) {
      const rank = row[a] ?? null;
      if (rank === null) continue;
      for (let b = 0; b < cups; b += 1) {
        const other = row[b] ?? null;
        if (other !== null && fits(rank, other)) own[b] = (own[b] ?? 0) + 1;
      }
    }
  }
  return counts;
}

/** Counts for every pair of cups how many tasters put one over the other. */
export function pairwiseWins(rows: SparseRows, cups: number): Wins {
  return countPairs(rows, cups, (rank, other) => rank < other);
}

/**
 * What a table's ranks add up to: all that standings and majorities rest on. Ranks are whole or half, so the sums
 * are exact and the order of tasters cannot move them.
 */
export type RankCounts = {
  /** per cup, over the tasters who placed it */
  readonly rankSums: readonly number[];
  /** cups placed by a taster → per cup, twice the distance from that taster's middle rank, summed */
  readonly doubled: ReadonlyMap<number, readonly number[]>;
  readonly wins: Wins;
  /** both[a][b]: tasters who placed cup a and cup b; both[a][a]: who placed a at all */
  readonly both: Wins;
};

/** Adds up a table's ranks: each row holds a taster's midranks 1..m of the m cups placed, null for the others. */
export function countRanks(rows: SparseRows, cups: number): RankCounts {
  const rankSums = new Array<number>(cups).fill(0);
  const doubled = new Map<number, number[]>();
  for (const row of rows) {
    const placed = row.filter((rank) => rank !== null).length;
    const sums = doubled.get(placed) ?? new Array<number>(cups).fill(0);
    doubled.set(placed, sums);
    for (let cup = 0; cup < cups; cup += 1) {
      const rank = row[cup] ?? null;
      if (rank === null) continue;
      rankSums[cup] = (rankSums[cup] ?? 0) + rank;
      sums[cup] = (sums[cup] ?? 0) + 2 * rank - (placed + 1);
    }
  }
  return { rankSums, doubled, wins: pairwiseWins(rows, cups), both: countPairs(rows, cups, () => true) };
}
