import { normalCritical } from './normal.js';

/** Lower and upper end of an interval. */
export type Interval = readonly [low: number, high: number];

/**
 * Wilson score interval for a share, without continuity correction, (p + z²/2n ± z √(p (1 − p) / n + z²/4n²)) / (1 + z²/n)
 * with p the share of n tasters and z the normal quantile: it stays inside 0..1 and behaves for the
 * six to twelve people of a table (E. B. Wilson, 1927, JASA 22:209–212).
 *
 * @param successes whole count, 0..trials
 * @param trials whole count; 0 gives the whole range [0, 1], because nothing is known
 * @param confidence coverage, 0.95 by default
 */
export function wilsonInterval(successes: number, trials: number, confidence = 0.95): Interval {
  if (trials === 0) return [0, 1];
  const z2 = normalCritical(1 - confidence) ** 2;
  const failures = trials - successes;
  const half = Math.sqrt(z2 * ((successes * failures) / trials + z2 / 4));
  // The usual (centre − half) / (n + z²) written without a difference of near numbers.
  const away = (count: number) => count ** 2 / (trials * (count + z2 / 2 + half));
  return [away(successes), 1 - away(failures)];
}
