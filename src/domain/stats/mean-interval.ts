import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import type { Interval } from './wilson.js';

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
  const half = tQuantile((1 + confidence) / 2, count - 1) * Math.sqrt(variance / count);
  return [mean - half, mean + half];
}
