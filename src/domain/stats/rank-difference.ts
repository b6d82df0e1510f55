import { normalCritical } from './normal.js';

/**
 * Least significant rank difference: two cups whose rank sums differ by at least this much differ at `alpha`,
 * one pair at a time. z × √(J P (P + 1) / 6) for J tasters and P cups (ranking test of ISO 8587, recalled).
 */
export function leastSignificantRankDifference(tasters: number, cups: number, alpha = 0.05): number {
  return normalCritical(alpha) * Math.sqrt((tasters * cups * (cups + 1)) / 6);
}
