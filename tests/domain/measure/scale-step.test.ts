import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { apportion, apportionWeight } from '../../../src/domain/measure/scale-step.js';
import { examplesOf } from './worked-examples.js';

const Seats = z.object({ weights: z.array(z.number()), seats: z.number(), quota: z.string() });

describe('sharing out by largest remainder', () => {
  // Encyclopaedia article on the largest remainder method (10 seats; the Alabama pair), and hand-worked splits:
  // fixtures/trade/worked-examples.json names the source of each.
  const hare = examplesOf('largest-remainder').filter(
    (example) => Seats.parse(example.input).quota === 'hare',
  );

  test.each(hare.map((example) => [example.id, example] as const))('agrees with %s', (_, example) => {
    const { weights, seats } = Seats.parse(example.input);
    expect(apportion(seats, weights)).toEqual(example.expected['seats']);
  });

  test('the published examples are all there', () => {
    expect(hare).toHaveLength(6);
  });

  test('equal remainders go to the first listed', () => {
    expect(apportion(100, [1, 1, 1])).toEqual([34, 33, 33]);
    expect(apportion(2, [1, 1, 1])).toEqual([1, 1, 0]);
  });

  test('adds up to the total and strays from the exact share by less than one unit', () => {
    const weights = fc.array(fc.integer({ min: 0, max: 100_000 }), { minLength: 1, maxLength: 9 });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000_000 }), weights, (total, parts) => {
        fc.pre(parts.some((part) => part > 0));
        const sum = parts.reduce((a, b) => a + b, 0);
        const shared = apportion(total, parts);
        expect(shared.reduce((a, b) => a + b, 0)).toBe(total);
        shared.forEach((units, index) => {
          expect(Math.abs(units - (total * (parts[index] ?? 0)) / sum)).toBeLessThan(1);
        });
      }),
    );
  });

  test('adds up for green shares that are no whole numbers, too', () => {
    const weights = fc.array(fc.double({ min: 0.001, max: 100, noNaN: true }), {
      minLength: 1,
      maxLength: 9,
    });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000 }), weights, (total, parts) => {
        expect(apportion(total, parts).reduce((a, b) => a + b, 0)).toBe(total);
      }),
    );
  });

  test('a weight is shared in whole scale steps', () => {
    // 11.4 g at 50/30/20 on a 0.1 g scale: 5.7 + 3.42 + 2.28 → 5.7 + 3.4 + 2.3 (by hand).
    expect(apportionWeight(11_400, [50, 30, 20], 100)).toEqual([5700, 3400, 2300]);
  });

  test('refuses what cannot be shared', () => {
    expect(() => apportion(1.5, [1])).toThrow(RangeError);
    expect(() => apportion(-1, [1])).toThrow(RangeError);
    expect(() => apportion(10, [0, 0])).toThrow(RangeError);
    expect(() => apportion(10, [1, -1])).toThrow(RangeError);
    expect(() => apportionWeight(11_450, [1, 1], 100)).toThrow(RangeError);
  });
});
