import { type FriedmanResult, friedman } from '../stats/friedman.js';
import type { PermutationOptions } from '../stats/permutation-options.js';
import { type SkillingsMackResult, skillingsMack } from '../stats/skillings-mack.js';
import { type Choice, chooseWinner, type RatioCup } from './choose-winner.js';
import { type HeadToHead, headToHead } from './head-to-head.js';
import type { Evidence } from './judge.js';
import { isCircular, type Wins } from './majorities.js';
import type { RankCounts } from './rank-counts.js';
import { completeRows, type RankTable } from './rank-table.js';
import { type Standing, standingsOf } from './standings.js';

/** Whether the table tells the ratios apart at all: one of the two tests, and its p-value. */
export type Overall = {
  readonly friedman: FriedmanResult | null;
  readonly skillingsMack: SkillingsMackResult | null;
  readonly p: number;
};

/** Friedman for a complete table, Skillings–Mack for one with gaps, p = 1 when nothing can be compared. */
export function testOverall({ ids, rows, complete }: RankTable, options: PermutationOptions): Overall {
  if (ids.length < 2 || rows.length === 0) return { friedman: null, skillingsMack: null, p: 1 };
  if (complete) {
    const result = friedman(completeRows(rows), options);
    return { friedman: result, skillingsMack: null, p: result.p };
  }
  const result = skillingsMack(rows, options);
  return { friedman: null, skillingsMack: result, p: result.p };
}

/** A rank table weighed: who stands where, who wins, and how the winner fares against each other ratio. */
export type Weighed = {
  readonly standings: readonly Standing[];
  readonly choice: Choice;
  readonly pairs: readonly HeadToHead[];
  readonly wins: Wins;
};

/** Weighs a rank table, from what its ranks add up to, without asking for any overall p-value. */
export function weigh(
  cups: readonly RatioCup[],
  { ids, complete }: Pick<RankTable, 'ids' | 'complete'>,
  counts: RankCounts,
  hostChoice: string | null,
): Weighed {
  const standings = standingsOf(
    cups.map(({ id }) => id),
    ids,
    counts,
  );
  const choice = chooseWinner(cups, standings, complete, hostChoice);
  const { wins, both } = counts;
  const winner = choice.winner === null ? -1 : ids.indexOf(choice.winner);
  const pairs = winner < 0 ? [] : headToHead(ids, winner, wins, both);
  return { standings, choice, pairs, wins };
}

/** What `judge` asks for. */
export function evidenceOf({ standings, choice, pairs, wins }: Weighed, p: () => number): Evidence {
  return { winner: choice.winner, standings, headToHead: pairs, circular: () => isCircular(wins), p };
}
