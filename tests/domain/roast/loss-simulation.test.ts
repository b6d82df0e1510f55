import { describe, expect, test } from 'vitest';
import { estimateLoss } from '../../../src/domain/roast/loss.js';
import { type Random, seededFractions } from '../../../src/domain/stats/seeded-random.js';

/** A normal deviate (Box & Muller 1958, Annals of Mathematical Statistics 29:610-611). */
function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** Share of simulated coffees whose interval holds the loss they were made with, scales rounding to 10 g. */
function coverage(
  batches: number,
  spread: number,
  runs: number,
): { readonly mean: number; readonly next: number } {
  const random = seededFractions(batches * 1000 + Math.round(spread * 1e5));
  let [mean, next] = [0, 0];
  for (let run = 0; run < runs; run += 1) {
    const truth = 0.12 + 0.08 * random();
    const roasts = Array.from({ length: batches + 1 }, () => {
      const greenMg = Math.round(300 + 900 * random()) * 10_000;
      return {
        greenMg,
        roastedMg: Math.round((greenMg * (1 - truth - spread * normal(random))) / 10_000) * 10_000,
      };
    });
    const [seen, coming] = [roasts.slice(0, batches), roasts[batches]];
    const estimate = estimateLoss(seen, 1550);
    const nextBp = coming ? (1 - coming.roastedMg / coming.greenMg) * 10_000 : 0;
    if (estimate.lowBp <= truth * 10_000 && truth * 10_000 <= estimate.highBp) mean += 1;
    if (estimate.nextLowBp <= nextBp && nextBp <= estimate.nextHighBp) next += 1;
  }
  return { mean: mean / runs, next: next / runs };
}

describe('the loss estimate, over simulated coffees', () => {
  // 4000 runs: three standard errors of a 95 % share are 3 × √(0.95 × 0.05 / 4000) = 1.0 points.
  test.each([
    [2, 0.01],
    [3, 0.004],
    [5, 0.01],
    [8, 0.02],
    [12, 0.008],
  ])(
    'holds the true loss and the next batch 95 %% of the time after %i roasts that scatter by %d',
    (batches, spread) => {
      const { mean, next } = coverage(batches, spread, 4000);
      expect(mean).toBeGreaterThan(0.939);
      expect(mean).toBeLessThan(0.965);
      expect(next).toBeGreaterThan(0.939);
      expect(next).toBeLessThan(0.965);
    },
  );

  test('holds it at least as often after one roast, when batches scatter by a point or less', () => {
    expect(coverage(1, 0.01, 4000).mean).toBeGreaterThan(0.939);
    expect(coverage(1, 0.005, 4000).mean).toBeGreaterThan(0.939);
  });
});
