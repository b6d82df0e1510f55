import { exactFraction } from './exact-fraction.js';

/** A probability as a fraction of whole numbers: [1, 2] for a paired preference, [1, 3] for a triangle. */
export type Chance = readonly [numerator: number, denominator: number];

export const EVEN_CHANCE: Chance = [1, 2];
export const TRIANGLE_CHANCE: Chance = [1, 3];

function requireCounts(successes: number, trials: number): void {
  if (!Number.isInteger(successes) || !Number.isInteger(trials) || successes < 0 || successes > trials) {
    throw new RangeError(`Expected whole counts with 0 ≤ successes ≤ trials, got ${successes} of ${trials}.`);
  }
}

/** The weight of every count 0..trials as whole numbers; divided by `total` they are the probabilities. */
function binomialWeights(trials: number, [a, b]: Chance): { weights: readonly bigint[]; total: bigint } {
  if (!Number.isInteger(a) || !Number.isInteger(b) || a <= 0 || a >= b) {
    throw new RangeError(`Expected a chance strictly between 0 and 1, got ${a}/${b}.`);
  }
  const hit = BigInt(a);
  const miss = BigInt(b - a);
  const weights = [miss ** BigInt(trials)];
  let weight = weights[0] ?? 1n;
  for (let count = 1; count <= trials; count += 1) {
    weight = (weight * BigInt(trials - count + 1) * hit) / (BigInt(count) * miss);
    weights.push(weight);
  }
  return { weights, total: BigInt(b) ** BigInt(trials) };
}

function share(weights: readonly bigint[], total: bigint): number {
  return exactFraction(
    weights.reduce((sum, weight) => sum + weight, 0n),
    total,
  );
}

/**
 * P(X ≥ successes) for X ~ Binomial(trials, chance), in whole-number arithmetic and rounded once.
 *
 * @throws {RangeError} when the counts or the chance are out of range
 */
export function binomialUpperTail(successes: number, trials: number, chance: Chance): number {
  requireCounts(successes, trials);
  const { weights, total } = binomialWeights(trials, chance);
  return share(weights.slice(successes), total);
}

/**
 * Two-sided exact binomial test: the probability of every count that is no likelier than the observed one
 * (the rule of Conover, Practical Nonparametric Statistics, 1971). Likelihoods are compared as whole numbers.
 *
 * @returns 0 < p ≤ 1; 1 when there are no trials
 * @throws {RangeError} when the counts or the chance are out of range
 */
export function binomialTwoSided(successes: number, trials: number, chance: Chance): number {
  requireCounts(successes, trials);
  const { weights, total } = binomialWeights(trials, chance);
  const observed = weights[successes] ?? 0n;
  return share(
    weights.filter((weight) => weight <= observed),
    total,
  );
}
