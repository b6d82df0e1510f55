/** Numbers from 0 up to but not 1, one at each call. */
export type Random = () => number;

/**
 * Random numbers that are the same for the same seed (mulberry32, a 32-bit generator in the public domain).
 * Good for codes and orders, not for secrets.
 */
export function seededRandom(seed: number): Random {
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
