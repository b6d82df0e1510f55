import { type Random, seededFractions, shuffled } from '../stats/seeded-random.js';

/** Orders in which tasters go round the cups. */
export type ServingOrders = {
  /** One row per taster: cup numbers from 0, first to taste first. */
  readonly rows: readonly (readonly number[])[];
  /** True when every position and every neighbour is equally frequent over these tasters. */
  readonly balanced: boolean;
  /** Tasters for whom the next balanced number is reached. */
  readonly balancedFor: number;
};

/**
 * A Williams design: each cup once in every position and after every other cup once (twice for an odd
 * number of cups, which needs twice the rows).
 *
 * @param count cups, at least 1
 * @see Williams (1949), Australian Journal of Scientific Research A 2:149-168
 * @see MacFie, Bratchell, Greenhoff & Vallis (1989), Journal of Sensory Studies 4:129-148
 */
export function williamsDesign(count: number): readonly (readonly number[])[] {
  const first = Array.from({ length: count }, (_, at) =>
    at % 2 === 1 ? (at + 1) / 2 : (count - at / 2) % count,
  );
  const rows = Array.from({ length: count }, (_, shift) => first.map((cup) => (cup + shift) % count));
  return count % 2 === 0 || count === 1 ? rows : [...rows, ...rows.map((row) => [...row].reverse())];
}

/**
 * An order for each taster, taken in turn from a shuffled Williams design whose cups are dealt at random.
 * The same seed gives the same orders, and a taster who joins later changes nobody else's.
 */
export function servingOrders(cups: number, tasters: number, seed: number): ServingOrders {
  const random: Random = seededFractions(seed ^ 0x0bd7);
  const names = shuffled(
    Array.from({ length: cups }, (_, cup) => cup),
    random,
  );
  const design = shuffled(williamsDesign(cups), random).map((row) => row.map((cup) => names[cup] ?? cup));
  const rows = Array.from({ length: tasters }, (_, taster) => design[taster % design.length] ?? []);
  const balancedFor = Math.max(1, Math.ceil(tasters / design.length)) * design.length;
  return { rows, balanced: tasters > 0 && tasters % design.length === 0, balancedFor };
}
