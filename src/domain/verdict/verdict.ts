import { friedman, leastSignificantRankDifference } from '../stats/friedman.js';
import { CHI_SQUARE_ONLY, type PermutationOptions, USUAL_PERMUTATIONS } from '../stats/p-values.js';
import type { CountedNote, Placing } from '../tally/counted.js';
import {
  evidenceOf,
  type HeadToHead,
  indistinguishable,
  judge,
  type Overall,
  testOverall,
  type Verdict,
  weigh,
} from './judge.js';
import { type MajorityView, majorityView } from './majorities.js';
import { completeRows, countRanks, type RankTable, rankTable } from './rank-table.js';
import type { DecidedBy, RatioCup, Standing } from './standings.js';
import { tasterRanks } from './taster-ranks.js';
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
export type WinnerDecision = Overall & {
  readonly winner: string | null;
  readonly verdict: Verdict;
  readonly decidedBy: DecidedBy;
  /** cups level at the top before cost or host decided */
  readonly level: readonly string[];
  /** best first, unplaced cups last */
  readonly standings: readonly Standing[];
  /** tasters who placed two ratios or more: those who are counted */
  readonly placed: readonly string[];
  readonly headToHead: readonly HeadToHead[];
  /** ratios that cannot be told from the winner */
  readonly indistinguishable: readonly string[];
  /** on rank sums, for a complete table; null otherwise */
  readonly leastSignificantRankDifference: number | null;
  readonly kendallW: Concordance | null;
  readonly majorities: MajorityView;
  readonly wouldChange: WouldChange;
};

function concordance({ ids, rows }: RankTable): Concordance | null {
  const full = completeRows(rows);
  if (ids.length < 2 || full.length < 2) return null;
  // Only W is wanted, so no work is spent on a p-value.
  const { w } = friedman(full, CHI_SQUARE_ONLY);
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
    placed: table.tasters,
    ...overall,
    headToHead: pairs,
    indistinguishable: indistinguishable(pairs),
    leastSignificantRankDifference:
      table.complete && table.ids.length > 1 && table.rows.length > 0
        ? leastSignificantRankDifference(table.rows.length, table.ids.length)
        : null,
    kendallW: concordance(table),
    majorities: majorityView(table.ids, wins, standings, choice.winner),
    wouldChange: wouldChange(ratioCups, table, counts, weighed, verdict, permutations),
  };
}
