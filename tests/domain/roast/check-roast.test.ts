import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkRoast, type RoastHistory, type RoastReport } from '../../../src/domain/roast/check-roast.js';
import { drumLosses, usualLossBp } from '../../../src/domain/roast/loss.js';
import { FERNHOLLOW } from '../table/harbour-lamp.js';

const { drums } = FERNHOLLOW;
const DRUM = drums[0]?.name ?? '';
const SAMPLE = drums[1]?.name ?? '';

const report: RoastReport = {
  greenMg: 420_000,
  roastedMg: 355_000,
  roastedOn: '2026-11-26',
  drum: null,
  sure: false,
};
const history: RoastHistory = { roasts: [], defaultBp: 1550, drums, today: '2026-11-27' };
const check = (change: Partial<RoastReport>, more: Partial<RoastHistory> = {}) =>
  checkRoast({ ...report, ...change }, { ...history, ...more });
const batch = (greenMg: number, loss: number, drum: string | null = null, confirmed = false) => ({
  ...{ greenMg, roastedMg: greenMg * (1 - loss), drum, confirmed },
});

describe('a reported roast', () => {
  test('that can be counts, in the only drum that takes its green', () => {
    expect(check({})).toEqual({ kind: 'counts', drum: SAMPLE, confirmed: false });
    expect(check({ greenMg: 10_000_000, roastedMg: 8_450_000 })).toMatchObject({ drum: DRUM });
  });

  test.each([
    [355_000, 420_000, 'roasted', 'swapped'],
    [420_000, 420_000, 'roasted', 'swapped'],
    [420_000, 100_000, 'roasted', 'less than half'],
    // 600 g in, 100 g out: 83 % loss; 10 kg in, 1 kg out.
    [600_000, 100_000, 'roasted', 'less than half'],
    [10_000_000, 1_000_000, 'roasted', 'less than half'],
    [420_000, 0, 'roasted', 'How much came out'],
  ])('of %i mg in and %i mg out is refused', (greenMg, roastedMg, field, why) => {
    expect(check({ greenMg, roastedMg, sure: true })).toMatchObject({
      kind: 'refused',
      field,
      message: expect.stringContaining(why),
    });
  });

  test.each([
    ['2026-11-28', 'still to come'],
    ['2026-09-27', 'between'],
    ['2020-11-26', 'between'],
  ])('of %s is refused on 27 November 2026', (roastedOn, why) => {
    expect(check({ roastedOn })).toMatchObject({
      kind: 'refused',
      field: 'day',
      message: expect.stringContaining(why),
    });
    expect(check({ roastedOn: '2026-09-28' })).toMatchObject({ kind: 'counts' });
  });

  test('far from the usual loss is asked about once, and counts when somebody is sure', () => {
    // (420 − 340) / 420 = 19.05 %, more than 2 points from the default of 15.5 %.
    expect(check({ roastedMg: 340_000 })).toMatchObject({
      kind: 'question',
      drums: [],
      odd: expect.stringMatching(/19.05 % is more than 2 points from the 15.5 %.*sample roaster/u),
    });
    expect(check({ roastedMg: 340_000, sure: true })).toEqual({
      kind: 'counts',
      drum: SAMPLE,
      confirmed: true,
    });
    // The coffee's own history in this drum says more than the default.
    const roasts = [batch(420_000, 0.19, SAMPLE), batch(420_000, 0.192, SAMPLE)];
    expect(check({ roastedMg: 340_000 }, { roasts })).toMatchObject({ kind: 'counts', confirmed: false });
  });

  test('that several drums take asks in which one it was', () => {
    const two = drums.map((drum) => ({ ...drum, minimumChargeMg: 0 }));
    expect(check({}, { drums: two })).toEqual({ kind: 'question', odd: null, drums: [DRUM, SAMPLE] });
    expect(check({ drum: DRUM }, { drums: two })).toMatchObject({ kind: 'counts', drum: DRUM });
    // Both at once: the drum that was chosen stays to choose from beside the other question.
    expect(check({ drum: DRUM, roastedMg: 340_000 }, { drums: two })).toMatchObject({
      kind: 'question',
      odd: expect.stringContaining(`usual in the ${DRUM}`),
      drums: [DRUM, SAMPLE],
    });
  });

  test('that counts keeps the mass balance, whatever is reported', () => {
    const mg = fc.integer({ min: -1000, max: 20_000_000 });
    fc.assert(
      fc.property(mg, mg, fc.boolean(), (greenMg, roastedMg, sure) => {
        if (check({ greenMg, roastedMg, sure }).kind === 'refused') return;
        expect(roastedMg).toBeGreaterThan(0);
        expect(roastedMg).toBeLessThan(greenMg);
        expect(roastedMg * 2).toBeGreaterThanOrEqual(greenMg);
      }),
    );
  });
});

describe('losses by drum', () => {
  test('a sample roaster’s batches never set the loss of the production drum', () => {
    const roasts = [batch(420_000, 0.17, SAMPLE), batch(440_000, 0.17, null), batch(10_000_000, 0.15, DRUM)];
    const losses = drumLosses(roasts, 1550, drums);
    expect(losses.get(SAMPLE)).toMatchObject({ lossBp: 1700, batches: 2 });
    expect(losses.get(DRUM)).toMatchObject({ lossBp: 1500, batches: 1 });
  });

  test('one odd batch does not drive the next charge unless somebody confirmed it', () => {
    const usual = [0.15, 0.152, 0.148].map((loss) => batch(420_000, loss, SAMPLE));
    const slip = batch(420_000, 0.45, SAMPLE);
    expect(drumLosses([...usual, slip], 1550, drums).get(SAMPLE)).toMatchObject({ lossBp: 1500, batches: 3 });
    expect(usualLossBp([...usual, slip], 1550)).toBe(1500);
    expect(drumLosses([slip], 1550, drums).get(SAMPLE)).toMatchObject({ lossBp: 1550, batches: 0 });
    const sure = { ...slip, confirmed: true };
    expect(drumLosses([...usual, sure], 1550, drums).get(SAMPLE)).toMatchObject({ lossBp: 2250, batches: 4 });
  });

  test('a drum that was renamed is known again by the green it takes', () => {
    const losses = drumLosses([batch(420_000, 0.16, 'old name')], 1550, drums);
    expect(losses.get(SAMPLE)).toMatchObject({ lossBp: 1600, batches: 1 });
  });
});
