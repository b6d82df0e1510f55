import { binomialUpperTail, type Chance, EVEN_CHANCE, TRIANGLE_CHANCE } from './binomial.js';

function smallestCount(trials: number, chance: Chance, alpha: number): number | null {
  let low = 0;
  let high = trials + 1;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (middle > trials || binomialUpperTail(middle, trials, chance) <= alpha) high = middle;
    else low = middle + 1;
  }
  return low > trials ? null : low;
}

/**
 * Smallest number of right answers in a triangle test that is beyond chance (ISO 4120: one-sided, 1/3).
 *
 * @returns the count, or null when not even all right would do
 */
export function triangleCriticalCount(trials: number, alpha: number): number | null {
  return smallestCount(trials, TRIANGLE_CHANCE, alpha);
}

/** Smallest number of right answers in a duo-trio or directed paired test (ISO 10399: one-sided, 1/2). */
export function duoTrioCriticalCount(trials: number, alpha: number): number | null {
  return smallestCount(trials, EVEN_CHANCE, alpha);
}

/** Smallest number of agreeing choices in a two-sided paired preference test (ISO 5495). */
export function pairedPreferenceCriticalCount(trials: number, alpha: number): number | null {
  const count = smallestCount(trials, EVEN_CHANCE, alpha / 2);
  return count === null || 2 * count <= trials ? null : count;
}
