import { friedman, leastSignificantRankDifference } from '../stats/friedman.js';
import { CHI_SQUARE_ONLY, type PermutationOptions, USUAL_PERMUTATIONS } from '../stats/p-values.js';
import {
  indistinguishable,
  judge,
  type Overall,
  testOverall,
  type Verdict,
  type Weighed,
  weigh,
} from './judge.js';
import { type MajorityView, majorityView } from './majorities.js';
import { completeRows, countRanks, type RankTable } from './rank-table.js';
import type { RatioCup } from './standings.js';
import { type WouldChange, wouldChange } from './would-change.js';

/** What the winner is decided from. */
export type WinnerInput = {
  readonly ratioCups: readonly RatioCup[];
  /** the placings made into ranks; its cups are among the ratio cups, in their order */
  readonly table: RankTable;
  /** the host's choice among ratios that ranks and cost leave level */
  readonly hostChoice?: string | null;
  readonly permutations?: PermutationOptions;
};

/** Kendall's W over the tasters who placed every ratio. */
type Concordance = { readonly w: number; readonly tasters: number };

/** The winning ratio and everything its digest says about it. */
export type WinnerDecision = Overall &
  Omit<Weighed, 'wins' | 'isCircular'> & {
    readonly verdict: Verdict;
    /** tasters who placed two ratios or more: those who are counted */
    readonly placed: readonly string[];
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
export function decideWinner(input: WinnerInput): WinnerDecision {
  const { ratioCups, table, permutations = USUAL_PERMUTATIONS, hostChoice = null } = input;
  const overall = testOverall(table, permutations);
  const counts = countRanks(table.rows, table.ids.length);
  const weighed = weigh(ratioCups, table, counts, hostChoice);
  const { wins, isCircular: _, ...found } = weighed;
  const verdict = judge(weighed, overall.p);
  const comparable = table.complete && table.ids.length > 1 && table.rows.length > 0;
  return {
    ...found,
    ...overall,
    verdict,
    placed: table.tasters,
    indistinguishable: indistinguishable(found.headToHead),
    leastSignificantRankDifference: comparable
      ? leastSignificantRankDifference(table.rows.length, table.ids.length)
      : null,
    kendallW: concordance(table),
    majorities: majorityView(table.ids, wins, found.standings, found.winner),
    wouldChange: wouldChange(ratioCups, table, counts, weighed, verdict, permutations),
  };
}
