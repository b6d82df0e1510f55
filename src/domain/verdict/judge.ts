import type { HeadToHead } from './head-to-head.js';
import type { Standing } from './standings.js';

/** How sure the table is of its winner. */
export type Verdict = 'clear' | 'leaning' | 'too close';

/** Below it a difference is beyond chance. */
export const CLEAR_BELOW = 0.05;
/** Below it the table leans. */
const LEANING_BELOW = 0.2;

/** What a verdict rests on. `p` asks whether the table tells the ratios apart at all. */
export type Evidence = {
  readonly winner: string | null;
  readonly standings: readonly Standing[];
  readonly headToHead: readonly HeadToHead[];
  /** whether majorities run in a circle anywhere among the ratios */
  readonly circular: () => boolean;
  /** asked for only when it matters: it can be the costly part */
  readonly p: () => number;
};

/** Ratios that cannot be told from the winner at 5 %. */
export function indistinguishable(headToHead: readonly HeadToHead[]): readonly string[] {
  return headToHead.filter(({ pHolm }) => pHolm >= CLEAR_BELOW).map(({ other }) => other);
}

function beats({ wins, losses }: HeadToHead): boolean {
  return wins > losses;
}

function beatsRunnerUp({ winner, standings, headToHead }: Evidence): boolean {
  const others = standings.filter(({ id, place }) => id !== winner && place !== null);
  const next = Math.min(...others.map(({ place }) => place ?? Number.POSITIVE_INFINITY));
  const runnersUp = others.filter(({ place }) => place === next);
  return (
    runnersUp.length > 0 &&
    runnersUp.every(({ id }) => headToHead.some((pair) => pair.other === id && beats(pair)))
  );
}

/**
 * `clear`: the table tells the ratios apart (p < 0.05), tells the winner from every other one at 5 % (sign test,
 * Holm), and no majority speaks against it. `leaning`: p < 0.20 and the winner beats the runner-up head to head
 * (every runner-up, when several stand level). Otherwise `too close`. A circle of majorities, or another ratio
 * that beats the winner head to head, leaves `leaning` at most.
 */
export function judge(evidence: Evidence): Verdict {
  if (isClear(evidence)) return 'clear';
  return hasLead(evidence) && evidence.p() < LEANING_BELOW ? 'leaning' : 'too close';
}

/** Whether the verdict is `clear`; `p` is asked for only when nothing else speaks against it. */
export function isClear(evidence: Evidence): boolean {
  const { headToHead, circular, p } = evidence;
  const toldFromAll = indistinguishable(headToHead).length === 0 && headToHead.every(beats);
  return toldFromAll && hasLead(evidence) && !circular() && p() < CLEAR_BELOW;
}

function hasLead(evidence: Evidence): boolean {
  return evidence.winner !== null && evidence.headToHead.length > 0 && beatsRunnerUp(evidence);
}
