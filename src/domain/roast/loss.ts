import { WHOLE_BP } from '../measure/hundredths.js';
import { ceilToStep, roundToStep } from '../measure/scale-step.js';

/**
 * Roast loss of a batch in hundredths of a percent: (green − roasted) / green (trade articles on weight loss).
 *
 * @throws {RangeError} when the green weight is not positive
 */
export function lossBp(greenMg: number, roastedMg: number): number {
  if (!(greenMg > 0)) throw new RangeError('A batch needs a green weight.');
  return Math.round(((greenMg - roastedMg) / greenMg) * WHOLE_BP);
}

/** Green to charge for a roasted weight: roasted / (1 − loss), up to the scale step. Milligrams. */
export function greenFor(roastedMg: number, loss: number, stepMg: number): number {
  return ceilToStep((roastedMg * WHOLE_BP) / (WHOLE_BP - loss), stepMg);
}

/** Roasted weight to expect from a green weight: green × (1 − loss), to the nearest scale step. Milligrams. */
export function roastedFrom(greenMg: number, loss: number, stepMg: number): number {
  return roundToStep((greenMg * (WHOLE_BP - loss)) / WHOLE_BP, stepMg);
}
