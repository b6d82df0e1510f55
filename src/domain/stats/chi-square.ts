import gammainc from '@stdlib/math-base-special-gammainc';

/**
 * P(X ≥ statistic) for X chi-square with `df` degrees of freedom (upper regularised incomplete gamma).
 *
 * @param statistic 0 or more
 * @param df 1 or more; 0 means that nothing varies and gives 1
 */
export function chiSquareUpperTail(statistic: number, df: number): number {
  if (df <= 0 || statistic <= 0) return 1;
  return gammainc(statistic / 2, df / 2, true, true);
}
