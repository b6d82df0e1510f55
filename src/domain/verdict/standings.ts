import { type RankCounts, weightedRankSumsOf } from './rank-counts.js';

/** How one ratio cup stands. Figures are null for a cup that nobody placed. */
export type Standing = {
  readonly id: string;
  /** tasters who placed it */
  readonly tasters: number;
  /** mean of the ranks it was given, 1 the best */
  readonly meanRank: number | null;
  readonly rankSum: number | null;
  /** Skillings–Mack's weighted rank sum, which decides when placings are missing; lower is better */
  readonly weightedRankSum: number | null;
  /** place at the table, cups level with each other sharing the better number */
  readonly place: number | null;
};

/** Differences smaller than this are rounding, not rank sums. */
const LEVEL = 1e-9;

function unplaced(id: string): Standing {
  return { id, tasters: 0, meanRank: null, rankSum: null, weightedRankSum: null, place: null };
}

/**
 * Standings from best to worst, unplaced cups last. Cups that stand level keep the order of `ids`. When every
 * taster placed every cup, the weighted rank sum orders cups exactly as the mean rank does.
 *
 * @param ids every ratio cup, those of the table and those nobody placed
 * @param placedIds the cups counted
 */
export function standingsOf(
  ids: readonly string[],
  placedIds: readonly string[],
  counts: RankCounts,
): readonly Standing[] {
  const weighted = weightedRankSumsOf(counts);
  const placed = placedIds.map((id, column) => {
    const tasters = counts.both[column]?.[column] ?? 0;
    const rankSum = counts.rankSums[column] ?? 0;
    return { id, tasters, meanRank: rankSum / tasters, rankSum, weightedRankSum: weighted[column] ?? 0 };
  });
  const standing = placed.map((cup) => ({
    ...cup,
    place: 1 + placed.filter((other) => other.weightedRankSum < cup.weightedRankSum - LEVEL).length,
  }));
  return [
    ...standing.sort((a, b) => a.place - b.place),
    ...ids.filter((id) => !placedIds.includes(id)).map(unplaced),
  ];
}
