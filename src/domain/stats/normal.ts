import erfcinv from '@stdlib/math-base-special-erfcinv';

/**
 * The two-sided standard normal critical value: 1.959963984540054 for alpha 0.05.
 *
 * @param alpha probability outside ± the returned value, open interval 0..1
 */
export function normalCritical(alpha: number): number {
  return Math.SQRT2 * erfcinv(alpha);
}
