import { apportion } from '../measure/scale-step.js';

/** Whole-number shares of the finished, roasted blend by weight, in the order of the components. */
export type Parts = readonly number[];

/** Greatest common divisor of whole numbers; 0 counts as divisible by everything. */
function commonDivisor(numbers: readonly number[]): number {
  return numbers.reduce((a, b) => {
    let [x, y] = [a, b];
    while (y !== 0) [x, y] = [y, x % y];
    return x;
  }, 0);
}

/** The same ratio in its smallest whole parts: 50/30/20 is 5:3:2. */
export function smallestParts(parts: Parts): Parts {
  const divisor = commonDivisor(parts);
  return divisor > 1 ? parts.map((part) => part / divisor) : parts;
}

/** Whether two lists of parts are the same ratio: 50/30/20 and 5:3:2 are. */
export function sameRatio(a: Parts, b: Parts): boolean {
  const [left, right] = [smallestParts(a), smallestParts(b)];
  return left.length === right.length && left.every((part, index) => part === right[index]);
}

/** Each part's share of the whole, 0..1, unrounded. */
export function shares(parts: Parts): readonly number[] {
  const sum = parts.reduce((total, part) => total + part, 0);
  return parts.map((part) => part / sum);
}

/**
 * Percentages that add up to exactly 100, by largest remainder, ties to the first listed: 1:1:1 with one
 * decimal is 33.4, 33.3, 33.3.
 */
export function percentages(parts: Parts, decimals = 1): readonly number[] {
  const scale = 10 ** decimals;
  return apportion(100 * scale, parts).map((units) => units / scale);
}

/** A ratio as it is said: "50/30/20" when it adds up to 100, else its smallest parts "2:1:1". */
export function formatRatio(parts: Parts): string {
  const sum = parts.reduce((total, part) => total + part, 0);
  return sum === 100 ? parts.join('/') : smallestParts(parts).join(':');
}

/** Percentages with as many decimals as asked that add up to 100: "33.4 / 33.3 / 33.3 %". */
export function formatPercentages(parts: Parts, decimals = 1): string {
  const shown = percentages(parts, decimals);
  const whole = shown.every((share) => Number.isInteger(share));
  return `${shown.map((share) => share.toFixed(whole ? 0 : decimals)).join(' / ')} %`;
}

/** "Chirinos 50 %, Kayanza Hill 30 %, Nubosa Natural 20 %", leaving out coffees with no part. */
export function nameRatio(parts: Parts, names: readonly string[]): string {
  const shown = percentages(parts, 1);
  const named = names.map((name, index) => ({ name, part: parts[index] ?? 0, share: shown[index] ?? 0 }));
  return named
    .filter((entry) => entry.part > 0)
    .map((entry) => `${entry.name} ${entry.share} %`)
    .join(', ');
}
