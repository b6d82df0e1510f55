import { majorityCircles, margin, smithSet, type Wins } from './majorities.js';
import { rankedPairs } from './ranked-pairs.js';
import type { Standing } from './standings.js';

/** What the majorities say, pair by pair, beside the mean ranks. */
export type MajorityView = {
  /** the cup that beats every other head to head, null when there is none */
  readonly condorcetWinner: string | null;
  /** smallest set of cups that beat all others head to head (Smith) */
  readonly smithSet: readonly string[];
  /** each circle of majorities in order: [A, B, C] for A over B over C over A */
  readonly circles: readonly (readonly string[])[];
  /** ratios that more tasters put over the winner than under it */
  readonly beatWinner: readonly string[];
  /** the order by ranked pairs (Tideman), the published way out of a circle */
  readonly rankedPairs: {
    readonly order: readonly (readonly string[])[];
    readonly skipped: readonly { readonly over: string; readonly under: string; readonly margin: number }[];
    readonly tied: boolean;
  };
};

/** Reads the pairwise counts of the cups `ids`; circles are told from the cup that stands best. */
export function majorityView(
  ids: readonly string[],
  wins: Wins,
  standings: readonly Standing[],
  winner: string | null,
): MajorityView {
  const name = (cup: number) => ids[cup] ?? '';
  const preferred = standings.map(({ id }) => ids.indexOf(id)).filter((cup) => cup >= 0);
  const condorcet = ids.findIndex((_, cup) =>
    ids.every((__, other) => other === cup || margin(wins, cup, other) > 0),
  );
  const pairs = rankedPairs(wins);
  const chosen = winner === null ? -1 : ids.indexOf(winner);
  return {
    condorcetWinner: ids[condorcet] ?? null,
    smithSet: smithSet(wins).map(name),
    circles: majorityCircles(wins, preferred).map((circle) => circle.map(name)),
    beatWinner: chosen < 0 ? [] : ids.filter((_, other) => margin(wins, other, chosen) > 0),
    rankedPairs: {
      order: pairs.order.map((level) => level.map(name)),
      skipped: pairs.skipped.map(({ over, under, margin: by }) => ({
        over: name(over),
        under: name(under),
        margin: by,
      })),
      tied: pairs.tied,
    },
  };
}
