import { binomialTwoSided, EVEN_CHANCE } from './binomial.js';

/**
 * Exact two-sided sign test of paired preferences: the p-value of `wins` against `losses` when every taster
 * is as likely to prefer either cup (the paired preference method of ISO 5495). Ties are set aside, as the
 * sign test does; how many there were belongs beside the result.
 *
 * @returns 0 < p ≤ 1; 1 when nobody preferred either
 */
export function signTest(wins: number, losses: number): number {
  return binomialTwoSided(wins, wins + losses, EVEN_CHANCE);
}
