import { seededRandom } from '../../src/local/random.js';

/** Chances that repeat with their seed. */
export type Dice = {
  /** True with this chance, 0 to 1. */
  readonly chance: (of: number) => boolean;
  /** A whole number from `low` to `high`, both included. */
  readonly between: (low: number, high: number) => number;
  readonly oneOf: <T>(things: readonly [T, ...T[]]) => T;
};

/** Each `purpose` has its own row of throws, so that one part of a run does not move another's. */
export function throwDice(seed: number, purpose: string): Dice {
  const mixed = [...purpose].reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) >>> 0, seed + 1);
  const random = seededRandom(mixed);
  const between = (low: number, high: number) => low + Math.floor(random() * (high - low + 1));
  return {
    chance: (of) => random() < of,
    between,
    oneOf: (things) => things[between(0, things.length - 1)] ?? things[0],
  };
}
