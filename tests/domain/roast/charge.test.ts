import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planCharge } from '../../../src/domain/roast/charge.js';
import { FERNHOLLOW } from '../table/harbour-lamp.js';

const { drums } = FERNHOLLOW;
const [drum15] = drums;

describe('a charge', () => {
  // By hand: 350 g / (1 − 0.155) = 414.2 g, up to 420 g on a 10 g scale; 420 × 0.845 = 354.9 g, shown as 350 g.
  test('of 350 g goes to the sample roaster, with the remark that it will not match', () => {
    const { proposed, others } = planCharge(350_000, () => 1550, drums, 10_000);
    expect(proposed).toMatchObject({
      loads: 1,
      greenMg: 420_000,
      roastedMg: 350_000,
      overMg: 0,
      atMinimum: false,
    });
    expect(proposed.drum.kind).toBe('sample');
    expect(proposed.remarks.join(' ')).toContain(
      'will not match the colour and development of the production drum exactly',
    );
    expect(others).toHaveLength(1);
  });

  // By hand: the 15 kg drum takes 3.75 kg at least; × 0.845 = 3.16875 kg → 3.17 kg; over 3.17 − 0.35 = 2.82 kg.
  test('of 350 g in the 15 kg drum is its minimum, and says how many grams will be over', () => {
    const [inDrum] = planCharge(350_000, () => 1550, drums, 10_000).others;
    expect(inDrum).toMatchObject({
      greenMg: 3_750_000,
      roastedMg: 3_170_000,
      overMg: 2_820_000,
      atMinimum: true,
    });
    expect(inDrum?.remarks[0]).toBe(
      '3.75 kg is the least the 15 kg drum takes; about 2.82 kg roasted will be over. Sell it alone, keep it for the next table, or add it to a blend.',
    );
  });

  // By hand: 800 g of green is the most the 1 kg sample roaster takes at 80 %; 676 g roasted at 15.5 %.
  test('goes to the larger drum as soon as the sample roaster is full', () => {
    expect(planCharge(670_000, () => 1550, drums, 10_000).proposed.drum.kind).toBe('sample');
    expect(planCharge(680_000, () => 1550, drums, 10_000).proposed.drum.kind).toBe('production');
  });

  // By hand: 20 kg / 0.845 = 23.67 kg green; the 15 kg drum is used to 12 kg: two loads of 11.84 kg.
  test('beyond the largest drum is equal loads within its usable share', () => {
    const { proposed } = planCharge(20_000_000, () => 1550, drums, 10_000);
    expect(proposed).toMatchObject({ loads: 2, greenMg: 23_680_000 });
    expect(proposed.remarks[0]).toBe('2 equal loads of 11.84 kg green.');
  });

  test('under 40 % and under a quarter of a drum is warned of, never refused', () => {
    const open = drum15 ? [{ ...drum15, minimumChargeMg: 0 }] : [];
    expect(planCharge(4_000_000, () => 1550, open, 10_000).proposed.remarks).toEqual([
      'Under 40 % of the 15 kg drum: watch the bean probe.',
    ]);
    expect(planCharge(2_000_000, () => 1550, open, 10_000).proposed.remarks[0]).toContain(
      'Under a quarter of the 15 kg drum',
    );
  });

  test('always brings the wish, keeps every load within the drum and is whole scale steps', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 4000 }), fc.integer({ min: 800, max: 2500 }), (steps, loss) => {
        const wanted = steps * 10_000;
        const { proposed, others } = planCharge(wanted, () => loss, drums, 10_000);
        for (const charge of [proposed, ...others]) {
          const load = charge.greenMg / charge.loads;
          expect(load % 10_000).toBe(0);
          expect(load).toBeLessThanOrEqual(
            Math.max(charge.drum.capacityMg * charge.drum.usableShare, charge.drum.minimumChargeMg),
          );
          expect(load).toBeGreaterThanOrEqual(charge.drum.minimumChargeMg);
          expect((charge.greenMg * (10_000 - loss)) / 10_000).toBeGreaterThanOrEqual(wanted - 0.01);
          expect(
            Math.abs((charge.greenMg * (10_000 - loss)) / 10_000 - charge.roastedMg),
          ).toBeLessThanOrEqual(5000);
          expect(charge.overMg).toBe(charge.roastedMg - wanted);
        }
      }),
    );
  });
});

describe('a joined charge', () => {
  // By hand: 160 + 200 + 140 g are 500 g; 500 / 0.845 = 591.7 g → 600 g green; 600 × 0.845 = 507 g → 510 g.
  test('is the charge of the wishes together', () => {
    const { proposed } = planCharge(160_000 + 200_000 + 140_000, () => 1550, drums, 10_000);
    expect(proposed).toMatchObject({ greenMg: 600_000, roastedMg: 510_000, overMg: 10_000 });
  });

  test('that fits one load takes no more green than the wishes apart', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 5 }), (wishes) => {
        const wanted = wishes.map((steps) => steps * 10_000);
        const green = (mg: number) => planCharge(mg, () => 1550, drums.slice(1), 10_000).proposed;
        const joined = green(wanted.reduce((a, b) => a + b, 0));
        fc.pre(joined.loads === 1);
        expect(joined.greenMg).toBeLessThanOrEqual(wanted.reduce((sum, mg) => sum + green(mg).greenMg, 0));
      }),
    );
  });
});

// By hand: 3.75 kg are 8 lb 4.3 oz, 2.82 kg are 6 lb 3.5 oz (1 lb = 453.59237 g).
test('pounds stand beside the grams where the house reads pounds', () => {
  const [inDrum] = planCharge(350_000, () => 1550, drums, 10_000, 'pounds').others;
  expect(inDrum?.remarks[0]).toContain(
    '3.75 kg (8 lb 4.3 oz) is the least the 15 kg drum takes; about 2.82 kg (6 lb 3.5 oz) roasted will be over.',
  );
});

test('a wish that is no whole scale step is not shown short', () => {
  // By hand: 354.9 g / 0.845 = 420 g green; 354.9 g rounded to 10 g would read 350 g.
  expect(planCharge(354_900, () => 1550, drums, 10_000).proposed).toMatchObject({
    greenMg: 420_000,
    roastedMg: 354_900,
    overMg: 0,
  });
});

test('a house without a drum cannot be planned for', () => {
  expect(() => planCharge(100_000, () => 1550, [], 10_000)).toThrow(RangeError);
});
