import { expect } from 'vitest';
import { chiSquareUpperTail } from '../../../src/domain/stats/distributions.js';

/** Holds a figure to a reference within `relative` of it (of a thousandth, for figures smaller than that). */
export function expectClose(
  actual: number | null | undefined,
  expected: number,
  relative = 1e-11,
  what = '',
): void {
  const off = Math.abs((actual ?? Number.NaN) - expected);
  const isClose = off <= relative * Math.max(1e-3, Math.abs(expected));
  expect(isClose, `${what} is ${actual}, the reference says ${expected}`).toBe(true);
}

/** The same for each of a list. */
export function expectAllClose(
  actual: readonly number[] | null | undefined,
  expected: readonly number[],
  relative = 1e-11,
  what = '',
): void {
  expect(actual, what).toHaveLength(expected.length);
  expected.forEach((value, index) => {
    expectClose(actual?.[index], value, relative, `${what} [${index}]`);
  });
}

/** The chi-square approximation of a result's p-value, whatever the method that the result itself used. */
export function pChiSquare(result: {
  readonly statistic?: number | null;
  readonly q?: number | null;
  readonly df: number;
}): number {
  return chiSquareUpperTail(result.statistic ?? result.q ?? Number.NaN, result.df);
}
