import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ceilToStep, floorToStep, roundToStep } from '../../../src/domain/measure/scale-step.js';
import {
  formatGrams,
  formatPounds,
  formatWeight,
  MG_PER_POUND,
  parseWeight,
} from '../../../src/domain/measure/weight.js';

describe('reading a weight', () => {
  test.each([
    ['400g', 400_000],
    ['400 g', 400_000],
    ['1.2 kg', 1_200_000],
    ['1,2 kg', 1_200_000],
    ['1 200 g', 1_200_000],
    ['1,200 g', 1_200_000],
    ['11,4 g', 11_400],
    ['1 kilo', 1_000_000],
    ['0.1 g', 100],
    // One ounce is 28.349523125 g, one pound 453.59237 g (international avoirdupois pound, 1959).
    ['14 oz', 396_893],
    ['1 lb', 453_592],
    ['2 lb 3 oz', 992_233],
    ['33 lb', 14_968_548],
  ])('%s is %i mg', (text, mg) => {
    expect(parseWeight(text)).toEqual({ ok: true, mg });
  });

  test.each(['400', '', 'some', '400 stones', '0 g', '12 g of beans', '-3 g', '900000000 kg'])(
    '“%s” is refused with an example',
    (text) => {
      expect(parseWeight(text)).toMatchObject({ ok: false, message: expect.stringContaining('400g') });
    },
  );

  test('what is shown reads back as the same weight', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 50_000_000 }), (mg) => {
        expect(parseWeight(formatGrams(mg))).toEqual({ ok: true, mg });
      }),
    );
  });
});

describe('showing a weight', () => {
  test.each([
    [11_400, '11.4 g'],
    [8250, '8.25 g'],
    [400_000, '400 g'],
    [999_900, '999.9 g'],
    [1_000_000, '1 kg'],
    [5_920_000, '5.92 kg'],
    [1_234_500, '1234.5 g'],
  ])('%i mg is %s', (mg, text) => {
    expect(formatGrams(mg)).toBe(text);
  });

  test.each([
    [MG_PER_POUND, '1 lb'],
    [396_893, '14 oz'],
    [5_920_000, '13 lb 0.8 oz'],
    [15_000_000, '33 lb 1.1 oz'],
    [453_500, '1 lb'],
  ])('%d mg in pounds is %s', (mg, text) => {
    expect(formatPounds(mg)).toBe(text);
  });

  test('pounds stand beside the grams only where the house wants them', () => {
    expect(formatWeight(400_000, 'metric')).toBe('400 g');
    expect(formatWeight(400_000, 'pounds')).toBe('400 g (14.1 oz)');
  });
});

test('rounding to the scale step', () => {
  expect(roundToStep(11_385, 100)).toBe(11_400);
  expect(ceilToStep(1_176_470.6, 10_000)).toBe(1_180_000);
  expect(ceilToStep(1_180_000, 10_000)).toBe(1_180_000);
  expect(floorToStep(1_189_999, 10_000)).toBe(1_180_000);
});
