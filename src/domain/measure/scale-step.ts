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
