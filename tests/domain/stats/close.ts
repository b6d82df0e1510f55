import { expect } from 'vitest';

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
