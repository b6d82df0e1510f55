import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { estimateLoss, greenFor, lossBp, oddBatches, roastedFrom } from '../../../src/domain/roast/loss.js';
import { examplesOf } from '../measure/worked-examples.js';

const [published] = examplesOf('roast-weight-loss');

describe('roast loss', () => {
  // Trade articles on roast weight loss (100 → 85 g, 95 → 85 g, 12 → 10.44 lb): fixtures/trade/worked-examples.json.
  test('agrees with the published weighings', () => {
    expect(lossBp(100, 85) / 100).toBe(15);
    expect(published?.expected['loss_100_85']).toEqual([15]);
    expect([lossBp(95_000, 85_000) / 100]).toEqual(published?.expected['loss_95_85']);
    expect([lossBp(12_000, 10_440) / 100]).toEqual(published?.expected['loss_12_10_44']);
  });

  test('1000 g roasted at 15 % take 1176.47 g green, up to the scale step', () => {
    expect(published?.expected['green_for_1000g_at_15pc']).toEqual([1176.47]);
    expect(greenFor(1_000_000, 1500, 10)).toBe(1_176_480);
    expect(greenFor(1_000_000, 1500, 10_000)).toBe(1_180_000);
  });

  // A 12 kg drum at 25 % holds 3.0 kg green: about 2.5 kg roasted at 15.5 % (arithmetic).
  test('3 kg green at 15.5 % come out as 2.535 kg', () => {
    expect(roastedFrom(3_000_000, 1550, 1000)).toBe(2_535_000);
  });

  test('green × (1 − loss) is the roasted weight within half a step, and never short of the wish', () => {
    const wishes = fc.integer({ min: 1, max: 30_000 });
    fc.assert(
      fc.property(
        wishes,
        fc.integer({ min: 0, max: 3000 }),
        fc.constantFrom(100, 1000, 10_000),
        (steps, loss, step) => {
          const wanted = steps * step;
          const green = greenFor(wanted, loss, step);
          const out = (green * (10_000 - loss)) / 10_000;
          expect(green % step).toBe(0);
          expect(Math.abs(out - roastedFrom(green, loss, step))).toBeLessThanOrEqual(step / 2);
          expect(out).toBeGreaterThanOrEqual(wanted - 0.01);
          expect(((green - step) * (10_000 - loss)) / 10_000).toBeLessThan(wanted);
        },
      ),
    );
  });
});

function roast(greenMg: number, loss: number) {
  return { greenMg, roastedMg: greenMg * (1 - loss) };
}

describe('the loss to plan with', () => {
  test('is the default with 2 points to either side before the first roast', () => {
    expect(estimateLoss([], 1550)).toEqual({
      lossBp: 1550,
      lowBp: 1350,
      highBp: 1750,
      nextLowBp: 1350,
      nextHighBp: 1750,
      batches: 0,
    });
  });

  test('is the first roast as soon as there is one', () => {
    expect(estimateLoss([roast(1_000_000, 0.142)], 1550)).toMatchObject({ lossBp: 1420, batches: 1 });
  });

  // By hand: losses 14, 15, 16 % have mean 15, standard deviation 1; t(2 degrees of freedom, 95 %) = 4.303
  // (NIST/SEMATECH e-Handbook 1.3.6.7.2); 4.303 / √3 = 2.484 points, next batch 4.303 × √(4/3) = 4.969.
  test('has the Student interval of three roasts worked by hand', () => {
    expect(
      estimateLoss(
        [0.14, 0.15, 0.16].map((loss) => roast(1_000_000, loss)),
        1550,
      ),
    ).toEqual({
      lossBp: 1500,
      lowBp: 1251,
      highBp: 1749,
      nextLowBp: 1003,
      nextHighBp: 1997,
      batches: 3,
    });
  });

  test('rests on the latest twelve roasts', () => {
    const old = Array.from({ length: 20 }, () => roast(1_000_000, 0.2));
    const latest = Array.from({ length: 12 }, () => roast(1_000_000, 0.15));
    expect(estimateLoss([...old, ...latest], 1550)).toMatchObject({
      lossBp: 1500,
      lowBp: 1500,
      highBp: 1500,
      batches: 12,
    });
  });

  test('a batch more than 2 points from the others is pointed out', () => {
    const roasts = [0.15, 0.152, 0.19, 0.149].map((loss) => roast(1_000_000, loss));
    expect(oddBatches(roasts, 1550)).toEqual([{ index: 2, lossBp: 1900, usualBp: 1500 }]);
    expect(oddBatches([roast(1_000_000, 0.14)], 1550)).toEqual([]);
    expect(oddBatches([roast(1_000_000, 0.12)], 1550)).toMatchObject([{ lossBp: 1200, usualBp: 1550 }]);
  });
});
