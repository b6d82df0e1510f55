import type { SparseRows } from '../stats/canonical-rows.js';
import { weightedSums } from '../stats/skillings-mack.js';
import { pairwiseWins, type Wins } from './majorities.js';
import { bothPlaced } from './rank-table.js';

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
    let placed = 0;
    for (const rank of row) if (rank !== null) placed += 1;
    const sums = doubled.get(placed) ?? new Array<number>(cups).fill(0);
    doubled.set(placed, sums);
    for (let cup = 0; cup < cups; cup += 1) {
      const rank = row[cup] ?? null;
      if (rank === null) continue;
      rankSums[cup] = (rankSums[cup] ?? 0) + rank;
      sums[cup] = (sums[cup] ?? 0) + 2 * rank - (placed + 1);
    }
  }
  return { rankSums, doubled, wins: pairwiseWins(rows, cups), both: bothPlaced(rows, cups) };
}

/** The counts of a table that so many tasters more joined, each adding the same `more`. */
export function withMore(counts: RankCounts, more: RankCounts, tasters: number): RankCounts {
  const add = (sums: readonly number[], added: readonly number[] | undefined) =>
    sums.map((sum, at) => sum + tasters * (added?.[at] ?? 0));
  const nothing = counts.rankSums.map(() => 0);
  const placed = new Set([...counts.doubled.keys(), ...more.doubled.keys()]);
  return {
    rankSums: add(counts.rankSums, more.rankSums),
    doubled: new Map(
      [...placed].map((number) => [
        number,
        add(counts.doubled.get(number) ?? nothing, more.doubled.get(number)),
      ]),
    ),
    wins: counts.wins.map((row, cup) => add(row, more.wins[cup])),
    both: counts.both.map((row, cup) => add(row, more.both[cup])),
  };
}

/** Skillings–Mack's weighted rank sum of each cup. */
export function weightedRankSumsOf({ doubled, rankSums }: RankCounts): readonly number[] {
  return weightedSums(doubled, rankSums.length);
}
