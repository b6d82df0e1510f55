import { normalCritical, studentCritical } from './distributions.js';

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

/**
 * Interval of a mean: mean ± t × s / √n with n − 1 degrees of freedom (Student, 1908, Biometrika 6:1–25). Values that
 * are all the same have no spread to go by, and the interval is that value.
 *
 * @returns null below two values, when nothing is known of their spread
 */
export function meanInterval(values: readonly number[], confidence = 0.95): Interval | null {
  const count = values.length;
  if (count < 2) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (count - 1);
  const half = studentCritical(1 - confidence, count - 1) * Math.sqrt(variance / count);
  return [mean - half, mean + half];
}
