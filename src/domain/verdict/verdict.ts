import { friedman, leastSignificantRankDifference } from '../stats/friedman.js';
import { CHI_SQUARE_ONLY, holm, type PermutationOptions, USUAL_PERMUTATIONS } from '../stats/p-values.js';
import { signTest } from '../stats/sign-test.js';
import {
  CLEAR_BELOW,
  type HeadToHead,
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
import { completeRows, countRanks, type RankCounts, type RankTable, withMore } from './rank-table.js';
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

function rankAsTheyStand(
  table: RankTable,
  standings: readonly Standing[],
  winner: string,
): readonly number[] {
  const order = [winner, ...standings.map(({ id }) => id).filter((id) => id !== winner)];
  return table.ids.map((id) => order.indexOf(id) + 1);
}

/** Whether `tasters` more who place as the table stands would tell the winner from every other ratio. */
function wouldBeTold(pairs: readonly HeadToHead[], tasters: number): boolean {
  const adjusted = holm(pairs.map(({ wins, losses }) => signTest(wins + tasters, losses)));
  return adjusted.every((p) => p < CLEAR_BELOW);
}

/** The fewest tasters more from which the winner is told from every other ratio: more agreement never loses it. */
function fewestToTell(pairs: readonly HeadToHead[]): number | null {
  if (!wouldBeTold(pairs, MOST_TASTERS_MORE)) return null;
  let low = 1;
  let high = MOST_TASTERS_MORE;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (wouldBeTold(pairs, middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

function settling(
  cups: readonly RatioCup[],
  table: RankTable,
  counts: RankCounts,
  { winner, standings, headToHead }: Weighed,
  options: PermutationOptions,
): WouldChange['settle'] {
  const fewest = fewestToTell(headToHead);
  if (winner === null || fewest === null) return null;
  const more = rankAsTheyStand(table, standings, winner);
  const added = countRanks([more], table.ids.length);
  for (let tasters = fewest; tasters <= MOST_TASTERS_MORE; tasters += 1) {
    const weighed = weigh(cups, table, withMore(counts, added, tasters), winner);
    if (weighed.winner !== winner) continue;
    const rows = [...table.rows, ...Array.from({ length: tasters }, () => more)];
    if (isClear(weighed, () => testOverall({ ...table, rows }, options).p)) return { tasters };
  }
  return null;
}

/** Works out what would turn the answer and, unless it is clear already, what would settle it. */
function wouldChange(
  cups: readonly RatioCup[],
  table: RankTable,
  counts: RankCounts,
  weighed: Weighed,
  verdict: Verdict,
  options: PermutationOptions,
): WouldChange {
  const { winner } = weighed;
  if (winner === null || table.ids.length < 2) return { turn: null, settle: null };
  return {
    turn: turning(cups, weighed.standings, winner),
    settle: verdict === 'clear' ? null : settling(cups, table, counts, weighed, options),
  };
}
