import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseRatio } from '../../../src/domain/ratio/parse-ratio.js';

const HARBOUR_LAMP = [
  { name: 'Chirinos', origin: 'Peru' },
  { name: 'Kayanza Hill', origin: 'Burundi' },
  { name: 'Nubosa Natural', origin: 'Costa Rica' },
];

describe('reading a ratio', () => {
  test.each([
    ['50/30/20', [50, 30, 20]],
    ['50 / 30 / 20', [50, 30, 20]],
    ['2:1:1', [2, 1, 1]],
    ['2 : 1 : 1', [2, 1, 1]],
    ['40% 40% 20%', [40, 40, 20]],
    ['40 % / 40 % / 20 %', [40, 40, 20]],
    ['40, 40, 20', [40, 40, 20]],
    ['40,40,20', [40, 40, 20]],
    ['50-30-20', [50, 30, 20]],
    ['3 2 1', [3, 2, 1]],
    ['2 to 1 to 1', [2, 1, 1]],
    ['2 parts, 1 part, 1 part', [2, 1, 1]],
    ['12.5/37.5/50', [1, 3, 4]],
    ['12,5/37,5/50', [1, 3, 4]],
    ['12,5 37,5 50', [1, 3, 4]],
    ['33.3/33.3/33.4', [333, 333, 334]],
    ['1/2 1/4 1/4', [2, 1, 1]],
  ])('%s', (text, parts) => {
    expect(parseRatio(text, HARBOUR_LAMP)).toMatchObject({ ok: true, parts });
  });

  test.each([
    ['peru 50 burundi 30 costa 20', [50, 30, 20]],
    ['Costa Rica 20, Peru 50, Burundi 30', [50, 30, 20]],
    ['nubosa 1 chirinos 2 kayanza 1', [2, 1, 1]],
    ['50 chirinos 30 kayanza hill 20 nubosa natural', [50, 30, 20]],
    ['50% peru, 30% burundi, 20% costa', [50, 30, 20]],
    ['chirinos=50 kayanza=30 nubosa=20', [50, 30, 20]],
    ['hill 30 natural 20 chirinos 50', [50, 30, 20]],
    ['peru50 burundi30 costa20', [50, 30, 20]],
    ['chirinos 12.5 kayanza 37.5 nubosa 50', [1, 3, 4]],
  ])('by name: %s', (text, parts) => {
    expect(parseRatio(text, HARBOUR_LAMP)).toMatchObject({ ok: true, parts, saidSo: null });
  });

  test('plain percentages and plain parts need no explanation', () => {
    expect(parseRatio('50/30/20', HARBOUR_LAMP)).toMatchObject({ saidSo: null });
    expect(parseRatio('2:1:1', HARBOUR_LAMP)).toMatchObject({ saidSo: null });
  });

  // "30/30/30" means equal thirds: common practice, no source.
  test('percentages that miss 100 are read as parts, and that is said', () => {
    expect(parseRatio('30/30/30', HARBOUR_LAMP)).toEqual({
      ok: true,
      parts: [30, 30, 30],
      saidSo: '30/30/30 adds up to 90, so I read it as equal parts: 33.4 / 33.3 / 33.3 %.',
    });
    expect(parseRatio('50% 30% 30%', HARBOUR_LAMP)).toMatchObject({
      saidSo: '50% 30% 30% adds up to 110, so I read it as parts: 45.4 / 27.3 / 27.3 %.',
    });
  });

  test('percentages far from 100 are read as parts too, and that is said', () => {
    expect(parseRatio('40% 20% 20%', HARBOUR_LAMP)).toMatchObject({
      ok: true,
      saidSo: '40% 20% 20% adds up to 80, so I read it as parts: 50 / 25 / 25 %.',
    });
  });

  test('a coffee with no part is left out, and that is said', () => {
    expect(parseRatio('60/40/0', HARBOUR_LAMP)).toMatchObject({
      ok: true,
      parts: [60, 40, 0],
      saidSo: 'Nubosa Natural is left out.',
    });
    expect(parseRatio('peru 60 burundi 40', HARBOUR_LAMP)).toMatchObject({ parts: [60, 40, 0] });
  });

  test.each([
    ['50/50', 'I read 2 numbers in “50/50”, and the blend has 3 coffees.'],
    ['0/0/0', 'at least one part'],
    ['50/-30/20', 'less than nothing'],
    ['half and half', 'could not read'],
    ['', 'could not read'],
    ['peru 50 kenya 30 costa 20', 'There is no “kenya” in this blend'],
    ['peru 50 peru 30 costa 20', 'Chirinos has two numbers'],
    ['peru burundi 30 costa 20', 'There is no “peru burundi”'],
    ['peru 50 30 costa 20', 'lost count'],
  ])('“%s” is refused kindly', (text, why) => {
    expect(parseRatio(text, HARBOUR_LAMP)).toMatchObject({
      ok: false,
      message: expect.stringContaining(why),
    });
  });

  test('a name that fits two coffees is asked about', () => {
    const two = [{ name: 'Hill Washed' }, { name: 'Hill Natural' }];
    expect(parseRatio('hill 50 natural 50', two)).toMatchObject({
      ok: false,
      message: '“hill” could be Hill Washed or Hill Natural. Say a little more of the name.',
    });
  });

  test('any positive parts read back as they were typed, with any usual separator', () => {
    const parts = fc.array(fc.integer({ min: 1, max: 999 }), { minLength: 3, maxLength: 3 });
    fc.assert(
      fc.property(parts, fc.constantFrom('/', ':', ' ', ', ', ' / ', '+'), (numbers, separator) => {
        expect(parseRatio(numbers.join(separator), HARBOUR_LAMP)).toMatchObject({ ok: true, parts: numbers });
      }),
    );
  });
});
