import { completeRows } from '../stats/canonical-rows.js';
import { friedman } from '../stats/friedman.js';
import { holm, type PermutationOptions } from '../stats/p-values.js';
import { signTest } from '../stats/sign-test.js';
import { skillingsMack } from '../stats/skillings-mack.js';
import { isCircular } from './majorities.js';
import { countRanks, type RankTable, type Wins } from './rank-table.js';
import { type Choice, chooseWinner, type RatioCup, type Standing, standingsOf } from './standings.js';

/** The winner against one other ratio, over the tasters who placed both. */
export type HeadToHead = {
  readonly other: string;
  /** tasters who put the winner over the other */
  readonly wins: number;
  /** tasters who put the other over the winner */
  readonly losses: number;
  /** tasters who placed both and put neither first */
  readonly ties: number;
  /** exact two-sided sign test over wins and losses */
  readonly p: number;
  /** adjusted by Holm over the other ratios */
  readonly pHolm: number;
};

/**
 * Sets the winner against each other placed ratio (paired preference, ISO 5495), Holm over the others.
 *
 * @param both both[a][b]: tasters who placed both cups
 */
function headToHead(ids: readonly string[], winner: number, wins: Wins, both: Wins): readonly HeadToHead[] {
  const others = ids.map((_, index) => index).filter((index) => index !== winner);
  const counts = others.map((other) => {
    const won = wins[winner]?.[other] ?? 0;
    const lost = wins[other]?.[winner] ?? 0;
    const ties = (both[winner]?.[other] ?? 0) - won - lost;
    return { other: ids[other] ?? '', wins: won, losses: lost, ties };
  });
  const pValues = counts.map((count) => signTest(count.wins, count.losses));
  const adjusted = holm(pValues);
  return counts.map((count, index) => ({ ...count, p: pValues[index] ?? 1, pHolm: adjusted[index] ?? 1 }));
}

/** Whether the table tells the ratios apart at all: the test that applies, null without two cups, and its p-value. */
export type Overall = { readonly test: 'friedman' | 'skillings-mack' | null; readonly p: number };

/** Friedman for a complete table, Skillings–Mack for one with gaps, p = 1 when nothing can be compared. */
export function testOverall({ ids, rows, complete }: RankTable, options: PermutationOptions): Overall {
  if (ids.length < 2 || rows.length === 0) return { test: null, p: 1 };
  if (complete) return { test: 'friedman', p: friedman(completeRows(rows), options).p };
  return { test: 'skillings-mack', p: skillingsMack(rows, options).p };
}

/** A rank table weighed: who stands where, who wins, and how the winner fares against each other ratio. */
export type Weighed = Choice & {
  readonly standings: readonly Standing[];
  readonly headToHead: readonly HeadToHead[];
  readonly wins: Wins;
};

/** Weighs a rank table without asking for any overall p-value. */
export function weigh(
  cups: readonly RatioCup[],
  { ids, rows, complete }: RankTable,
  hostChoice: string | null,
): Weighed {
  const counts = countRanks(rows, ids.length);
  const all = cups.map(({ id }) => id);
  const standings = standingsOf(all, ids, counts);
  const choice = chooseWinner(cups, standings, complete, hostChoice);
  const winner = choice.winner === null ? -1 : ids.indexOf(choice.winner);
  const pairs = winner < 0 ? [] : headToHead(ids, winner, counts.wins, counts.both);
  return { ...choice, standings, headToHead: pairs, wins: counts.wins };
}

/** How sure the table is of its winner. */
export type Verdict = 'clear' | 'leaning' | 'too close';

/** Below it a difference is beyond chance. */
const CLEAR_BELOW = 0.05;
/** Below it the table leans. */
const LEANING_BELOW = 0.2;

/** What a verdict rests on, beside whether the table tells the ratios apart at all. */
export type Evidence = Pick<Weighed, 'winner' | 'standings' | 'headToHead' | 'wins'>;

/** Ratios that cannot be told from the winner at 5 %. */
export function indistinguishable(headToHead: readonly HeadToHead[]): readonly string[] {
  return headToHead.filter(({ pHolm }) => pHolm >= CLEAR_BELOW).map(({ other }) => other);
}

function beats({ wins, losses }: HeadToHead): boolean {
  return wins > losses;
}

/** Whether the winner beats the runner-up head to head, or every one of several who stand level. */
function hasLead({ winner, standings, headToHead }: Evidence): boolean {
  const others = standings.filter(({ id, place }) => id !== winner && place !== null);
  const next = Math.min(...others.map(({ place }) => place ?? Number.POSITIVE_INFINITY));
  const runnersUp = others.filter(({ place }) => place === next);
  return (
    winner !== null &&
    runnersUp.length > 0 &&
    runnersUp.every(({ id }) => headToHead.some((pair) => pair.other === id && beats(pair)))
  );
}

/**
 * `clear`: the table tells the ratios apart (p < 0.05), tells the winner from every other one at 5 % (sign test,
 * Holm), and no majority speaks against it. `leaning`: p < 0.20 and the winner beats the runner-up head to head
 * (every runner-up, when several stand level). Otherwise `too close`. A circle of majorities, or another ratio
 * that beats the winner head to head, leaves `leaning` at most.
 *
 * @param p of the test over all ratios
 */
export function judge(evidence: Evidence, p: number): Verdict {
  if (isClear(evidence, () => p)) return 'clear';
  return hasLead(evidence) && p < LEANING_BELOW ? 'leaning' : 'too close';
}

/** Whether the verdict is `clear`; `p` can be costly and is asked for only when nothing else speaks against it. */
export function isClear(evidence: Evidence, p: () => number): boolean {
  const { headToHead, wins } = evidence;
  const toldFromAll = indistinguishable(headToHead).length === 0 && headToHead.every(beats);
  return toldFromAll && hasLead(evidence) && !isCircular(wins) && p() < CLEAR_BELOW;
}
