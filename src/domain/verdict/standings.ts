import { weightedSums } from '../stats/skillings-mack.js';
import type { RankCounts } from './rank-table.js';

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

const UNPLACED = { tasters: 0, meanRank: null, rankSum: null, weightedRankSum: null, place: null };

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
  const weighted = weightedSums(counts.doubled, placedIds.length);
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
    ...ids.filter((id) => !placedIds.includes(id)).map((id) => ({ id, ...UNPLACED })),
  ];
}

/** A ratio cup that could win, with its cost for breaking ties; cost null when it is not known. */
export type RatioCup = { readonly id: string; readonly costPerKgCents: number | null };

/** The rule that decided, or that has to: `host` with no winner means that the host has yet to choose. */
type DecidedBy = 'mean rank' | 'weighted rank sum' | 'lower cost' | 'host' | 'only ratio' | 'nobody placed';

/** The winner, the rule, and the cups that stood level at the top. */
export type Choice = {
  readonly winner: string | null;
  readonly decidedBy: DecidedBy;
  readonly level: readonly string[];
};

function cheapest(ids: readonly string[], cups: readonly RatioCup[]): string | null {
  const costs = ids.map((id) => ({ id, cost: cups.find((cup) => cup.id === id)?.costPerKgCents ?? null }));
  const known = costs.flatMap(({ id, cost }) => (cost === null ? [] : [{ id, cost }]));
  // A cup without a cost might be the cheapest, so costs decide only when all are known.
  if (known.length < ids.length) return null;
  const lowest = Math.min(...known.map(({ cost }) => cost));
  const [first, ...others] = known.filter(({ cost }) => cost === lowest);
  return first !== undefined && others.length === 0 ? first.id : null;
}

/**
 * The cup that stands first wins; cups level at the top go to the lower cost, then to the host.
 *
 * @param standings best first
 * @param complete whether every taster placed every cup, so that the mean rank decides
 * @param hostChoice the host's choice, heard only among cups that ranks and cost leave level
 */
export function chooseWinner(
  cups: readonly RatioCup[],
  standings: readonly Standing[],
  complete: boolean,
  hostChoice: string | null,
): Choice {
  const only = cups[0];
  if (only !== undefined && cups.length === 1)
    return { winner: only.id, decidedBy: 'only ratio', level: [only.id] };
  const level = standings.filter(({ place }) => place === 1).map(({ id }) => id);
  const [first, ...others] = level;
  if (first === undefined) return { winner: null, decidedBy: 'nobody placed', level };
  if (others.length === 0)
    return { winner: first, decidedBy: complete ? 'mean rank' : 'weighted rank sum', level };
  const byCost = cheapest(level, cups);
  if (byCost !== null) return { winner: byCost, decidedBy: 'lower cost', level };
  return {
    winner: hostChoice !== null && level.includes(hostChoice) ? hostChoice : null,
    decidedBy: 'host',
    level,
  };
}
