import { randomBytes } from 'node:crypto';

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';

/** An id in Slack's manner: a prefix and ten capitals and digits, unpredictable. */
export function newId(prefix: string): string {
  return prefix + Array.from(randomBytes(10), (byte) => LETTERS[byte % LETTERS.length]).join('');
}

/** A secret of 32 hexadecimal digits. */
export function newSecret(): string {
  return randomBytes(16).toString('hex');
}

/** Numbers in [0, 1) that repeat with the seed (the public-domain mulberry32 generator). */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
