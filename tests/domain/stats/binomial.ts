import { regularisedBeta } from '../../../src/domain/stats/distributions.js';

/** P(X ≥ successes) for X ~ Binomial(trials, a / b), by the incomplete beta function. */
export function binomialUpperTail(
  successes: number,
  trials: number,
  [a, b]: readonly [number, number],
): number {
  return successes <= 0 ? 1 : regularisedBeta(a / b, successes, trials - successes + 1);
}
