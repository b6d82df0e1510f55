import { holm } from '../stats/holm.js';
import { signTest } from '../stats/sign-test.js';
import type { Wins } from './majorities.js';

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
export function headToHead(
  ids: readonly string[],
  winner: number,
  wins: Wins,
  both: Wins,
): readonly HeadToHead[] {
  const others = ids.map((_, index) => index).filter((index) => index !== winner);
  const counts = others.map((other) => {
    const won = wins[winner]?.[other] ?? 0;
    const lost = wins[other]?.[winner] ?? 0;
    return {
      other: ids[other] ?? '',
      wins: won,
      losses: lost,
      ties: (both[winner]?.[other] ?? 0) - won - lost,
    };
  });
  const pValues = counts.map((count) => signTest(count.wins, count.losses));
  const adjusted = holm(pValues);
  return counts.map((count, index) => ({ ...count, p: pValues[index] ?? 1, pHolm: adjusted[index] ?? 1 }));
}
