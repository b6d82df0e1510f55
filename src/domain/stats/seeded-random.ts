import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Draws a whole number from `0` to `below − 1`, each equally likely. */
export type DrawBelow = (below: number) => number;

/** A generator that gives the same draws for the same seed, on any machine. */
export function seededRandom(seed: number): DrawBelow {
  const generator = xoroshiro128plus(seed);
  return (below) => uniformInt(generator, 0, below - 1);
}
