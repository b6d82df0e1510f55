import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Draws a whole number from `0` to `below − 1`, each equally likely. */
export type DrawBelow = (below: number) => number;

/** A generator that gives the same draws for the same seed, on any machine. */
export function seededRandom(seed: number): DrawBelow {
  const generator = xoroshiro128plus(seed);
  return (below) => uniformInt(generator, 0, below - 1);
}

/** Numbers from 0 up to but not 1, one at each call. */
export type Random = () => number;

/**
 * Fractions that are the same for the same seed (mulberry32, a 32-bit generator in the public domain). Good for codes
 * and orders, not for secrets. It stays beside the other generator because tables that are set keep their codes and
 * orders.
 */
export function seededFractions(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** The same items in a random order. */
export function shuffled<T>(items: readonly T[], random: Random): readonly T[] {
  const keyed = items.map((item) => ({ item, at: random() }));
  return keyed.sort((a, b) => a.at - b.at).map((entry) => entry.item);
}
