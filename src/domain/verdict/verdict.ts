import { conover } from '../stats/conover.js';
import { type FriedmanResult, friedman } from '../stats/friedman.js';
import {
  CHI_SQUARE_ONLY,
  type PermutationOptions,
  USUAL_PERMUTATIONS,
} from '../stats/permutation-options.js';
import { leastSignificantRankDifference } from '../stats/rank-difference.js';
import type { SkillingsMackResult } from '../stats/skillings-mack.js';
import type { CountedNote, Placing } from '../tally/counted.js';
import type { DecidedBy, RatioCup } from './choose-winner.js';
import type { HeadToHead } from './head-to-head.js';
import { indistinguishable, judge, type Verdict } from './judge.js';
import { type MajorityView, majorityView } from './majority-view.js';
import { countRanks } from './rank-counts.js';
import { completeRows, type RankTable, rankTable } from './rank-table.js';
import type { Standing } from './standings.js';
import { tasterRanks } from './taster-ranks.js';
import { evidenceOf, testOverall, weigh } from './weigh.js';
import { type WouldChange, wouldChange } from './would-change.js';

/** What the winner is decided from. */
export type WinnerInput = {
  readonly ratioCups: readonly RatioCup[];
  /** all counted notes: "best: D" reaches over the ratio cups its taster has noted */
  readonly notes: readonly CountedNote[];
  readonly placings: readonly Placing[];
  /** the host's choice among ratios that ranks and cost leave level */
  readonly hostChoice?: string | null;
  readonly permutations?: PermutationOptions;
};

/** The same with placings and notes already made into ranks. */
export type RanksInput = Omit<WinnerInput, 'notes' | 'placings'> & { readonly table: RankTable };

/** Kendall's W over the tasters who placed every ratio. */
type Concordance = { readonly w: number; readonly tasters: number };

/** The winning ratio and everything its digest says about it. */
export type WinnerDecision = {
  readonly winner: string | null;
  readonly verdict: Verdict;
  readonly decidedBy: DecidedBy;
  /** cups level at the top before cost or host decided */
  readonly level: readonly string[];
  /** best first, unplaced cups last */
  readonly standings: readonly Standing[];
  readonly meanRanks: ReadonlyMap<string, number>;
  /** tasters who placed two ratios or more: those who are counted */
  readonly placed: readonly string[];
  /** tasters who placed a single ratio and so compare nothing */
  readonly placedOne: readonly string[];
  /** ratios nobody placed: outside the verdict */
  readonly unplaced: readonly string[];
  /** when every counted taster placed every placed ratio, else null */
  readonly friedman: FriedmanResult | null;
  /** when placings are missing, else null */
  readonly skillingsMack: SkillingsMackResult | null;
  /** p-value of whichever of the two applies; 1 when there is nothing to compare */
  readonly p: number;
  readonly headToHead: readonly HeadToHead[];
  /** ratios that cannot be told from the winner */
  readonly indistinguishable: readonly string[];
  /** on rank sums, for a complete table; null otherwise */
  readonly leastSignificantRankDifference: number | null;
  /** the same with ties taken into account (Conover), for a complete table; null otherwise */
  readonly tiedRankDifference: number | null;
  readonly kendallW: Concordance | null;
  readonly majorities: MajorityView;
  readonly wouldChange: WouldChange;
};

function concordance({ ids, rows }: RankTable, known: FriedmanResult | null): Concordance | null {
  const full = completeRows(rows);
  if (ids.length < 2 || full.length < 2) return null;
  const { w } = known ?? friedman(full, CHI_SQUARE_ONLY);
  return w === null ? null : { w, tasters: full.length };
}

/**
 * Decides the winning ratio from the placings, by the rules of `chooseWinner` and `judge`: the lowest mean rank
 * wins (ISO 8587), Friedman asks whether the table tells the ratios apart, exact sign tests with Holm whether it
 * tells the winner from each other one. When placings are missing, Skillings–Mack takes the place of both mean
 * rank and Friedman, so that nobody is dropped.
 */
export function decideWinner({ notes, placings, ...input }: WinnerInput): WinnerDecision {
  const ids = input.ratioCups.map(({ id }) => id);
  return decideFromRanks({ ...input, table: rankTable(ids, tasterRanks(ids, notes, placings)) });
}

/** The same from placings already made into ranks; the table's cups are among the ratio cups, in their order. */
export function decideFromRanks(input: RanksInput): WinnerDecision {
  const { ratioCups, table, permutations = USUAL_PERMUTATIONS, hostChoice = null } = input;
  const ids = ratioCups.map(({ id }) => id);
  const overall = testOverall(table, permutations);
  const counts = countRanks(table.rows, table.ids.length);
  const weighed = weigh(ratioCups, table, counts, hostChoice);
  const { standings, choice, pairs, wins } = weighed;
  const verdict = judge(evidenceOf(weighed, () => overall.p));
  return {
    winner: choice.winner,
    verdict,
    decidedBy: choice.decidedBy,
    level: choice.level,
    standings,
    meanRanks: new Map(standings.flatMap(({ id, meanRank }) => (meanRank === null ? [] : [[id, meanRank]]))),
    placed: table.tasters,
    placedOne: table.placedOne,
    unplaced: ids.filter((id) => !table.ids.includes(id)),
    ...overall,
    headToHead: pairs,
    indistinguishable: indistinguishable(pairs),
    leastSignificantRankDifference:
      table.complete && table.ids.length > 1 && table.rows.length > 0
        ? leastSignificantRankDifference(table.rows.length, table.ids.length)
        : null,
    tiedRankDifference: table.complete
      ? (conover(completeRows(table.rows), 0.05, overall.friedman)?.leastDifference ?? null)
      : null,
    kendallW: concordance(table, overall.friedman),
    majorities: majorityView(table.ids, wins, standings, choice.winner),
    wouldChange: wouldChange(ratioCups, table, counts, weighed, verdict, permutations),
  };
}
