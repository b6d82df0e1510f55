/** The nearest multiple of the scale step, halves up. Milligrams in, milligrams out. */
export function roundToStep(mg: number, stepMg: number): number {
  return Math.round(mg / stepMg) * stepMg;
}

/**
 * The smallest multiple of the scale step that is not under `mg`. A thousandth of a milligram is forgiven,
 * so that a quotient like 1000 / (1 − 0.15) that is whole on paper does not gain a step.
 */
export function ceilToStep(mg: number, stepMg: number): number {
  return Math.ceil((mg - 0.001) / stepMg) * stepMg;
}

/** The largest multiple of the scale step that is not over `mg`, with the same forgiveness. */
export function floorToStep(mg: number, stepMg: number): number {
  return Math.floor((mg + 0.001) / stepMg) * stepMg;
}

/**
 * Shares `totalUnits` whole units out in proportion to `weights`, by largest remainder (Hare quota);
 * equal remainders go to the first listed, so the result adds up to the total exactly.
 *
 * @param totalUnits whole number ≥ 0 (scale steps, tenths of a percent, cents)
 * @param weights each ≥ 0, not all 0 unless the total is 0
 * @throws {RangeError} when the total is not a whole number or nothing can be shared
 * @see Hare, T. (1859), The Election of Representatives: the largest remainder method
 */
export function apportion(totalUnits: number, weights: readonly number[]): readonly number[] {
  if (!Number.isSafeInteger(totalUnits) || totalUnits < 0) {
    throw new RangeError(`Cannot share out ${totalUnits}: not a whole number of units.`);
  }
  const sum = weights.reduce((total, weight) => total + weight, 0);
  if (weights.some((weight) => !(weight >= 0)) || (!(sum > 0) && totalUnits > 0)) {
    throw new RangeError('Cannot share out units without positive weights.');
  }
  if (totalUnits === 0) return weights.map(() => 0);
  const floors = weights.map((weight) => Math.floor((totalUnits * weight) / sum));
  const left = totalUnits - floors.reduce((total, units) => total + units, 0);
  // Remainders are kept as numerators over the same sum: exact for whole weights, so ties are true ties.
  const luckiest = weights
    .map((weight, index) => ({ index, remainder: totalUnits * weight - (floors[index] ?? 0) * sum }))
    .sort((a, b) => b.remainder - a.remainder || a.index - b.index)
    .slice(0, left);
  const extra = new Set(luckiest.map((entry) => entry.index));
  return floors.map((units, index) => units + (extra.has(index) ? 1 : 0));
}

/**
 * Shares a weight out in proportion, in whole scale steps that add up to it exactly.
 *
 * @param totalMg milligrams, a multiple of `stepMg`
 * @throws {RangeError} when the total is not a multiple of the step
 */
export function apportionWeight(
  totalMg: number,
  weights: readonly number[],
  stepMg: number,
): readonly number[] {
  return apportion(totalMg / stepMg, weights).map((steps) => steps * stepMg);
}
