import { completeRows } from '../stats/canonical-rows.js';
import { friedman, leastSignificantRankDifference } from '../stats/friedman.js';
import { CHI_SQUARE_ONLY, type PermutationOptions, USUAL_PERMUTATIONS } from '../stats/p-values.js';
import {
  indistinguishable,
  isClear,
  judge,
  type Overall,
  testOverall,
  type Verdict,
  type Weighed,
  weigh,
} from './judge.js';
import { type MajorityView, majorityView } from './majorities.js';
import type { RankTable } from './rank-table.js';
import type { RatioCup, Standing } from './standings.js';

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
  Omit<Weighed, 'wins'> & {
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
  const weighed = weigh(ratioCups, table, hostChoice);
  const { wins, ...found } = weighed;
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
    wouldChange: wouldChange(ratioCups, table, weighed, verdict, permutations),
  };
}

/** What it would take to change the answer, counted in tasters more than there are. */
type WouldChange = {
  /** the fewest more tasters who, putting `cup` first and the winner second, would make `cup` win */
  readonly turn: { readonly cup: string; readonly tasters: number } | null;
  /** the fewest more tasters who, placing as the table stands, would make the verdict `clear`; null when it is, or when the count would be beyond 30 */
  readonly settle: { readonly tasters: number } | null;
};

const MOST_TASTERS_MORE = 30;
const ROUNDING = 1e-9;

function turning(
  cups: readonly RatioCup[],
  standings: readonly Standing[],
  winner: string,
): WouldChange['turn'] {
  const placed = standings.filter(({ place }) => place !== null);
  const top = placed.find(({ id }) => id === winner)?.weightedRankSum ?? 0;
  // One full placing moves two neighbours apart by this much (see weightedSums).
  const step = Math.sqrt(12 / (placed.length + 1));
  const costOf = (id: string) => cups.find((cup) => cup.id === id)?.costPerKgCents ?? null;
  const winnersCost = costOf(winner);
  const turns = placed
    .filter(({ id }) => id !== winner)
    .map(({ id, weightedRankSum }) => {
      const behind = ((weightedRankSum ?? 0) - top) / step;
      const level = Math.round(behind);
      const cost = costOf(id);
      const winsLevel = cost !== null && winnersCost !== null && cost < winnersCost;
      const reachesLevel = Math.abs(behind - level) < ROUNDING;
      const tasters = reachesLevel && winsLevel ? level : Math.floor(behind + ROUNDING) + 1;
      return { cup: id, tasters: Math.max(1, tasters) };
    })
    .sort((a, b) => a.tasters - b.tasters);
  return turns[0] ?? null;
}

function settling(
  cups: readonly RatioCup[],
  table: RankTable,
  standings: readonly Standing[],
  winner: string,
  options: PermutationOptions,
): WouldChange['settle'] {
  const order = [winner, ...standings.map(({ id }) => id).filter((id) => id !== winner)];
  const more = table.ids.map((id) => order.indexOf(id) + 1);
  for (let tasters = 1; tasters <= MOST_TASTERS_MORE; tasters += 1) {
    const joined = { ...table, rows: [...table.rows, ...Array.from({ length: tasters }, () => more)] };
    const weighed = weigh(cups, joined, winner);
    if (weighed.winner === winner && isClear(weighed, () => testOverall(joined, options).p))
      return { tasters };
  }
  return null;
}

/** Works out what would turn the answer and, unless it is clear already, what would settle it. */
function wouldChange(
  cups: readonly RatioCup[],
  table: RankTable,
  { winner, standings }: Weighed,
  verdict: Verdict,
  options: PermutationOptions,
): WouldChange {
  if (winner === null || table.ids.length < 2) return { turn: null, settle: null };
  return {
    turn: turning(cups, standings, winner),
    settle: verdict === 'clear' ? null : settling(cups, table, standings, winner, options),
  };
}
