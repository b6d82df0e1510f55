import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { marginAt, priceAt } from '../../../src/domain/production/blend-cost.js';
import { type ProductionPlan, productionNote } from '../../../src/domain/production/production-note.js';
import {
  greenShares,
  joinedLossBp,
  NOTHING_MEASURED,
  roastedShares,
} from '../../../src/domain/production/roast-groups.js';
import { whenRunsOut, withStandIn } from '../../../src/domain/production/stand-in.js';
import { examplesOf } from '../measure/worked-examples.js';
import { CHIRINOS, FERNHOLLOW, KAYANZA_HILL, NUBOSA_NATURAL } from '../table/harbour-lamp.js';

/** Harbour Lamp with its own losses and prices: Chirinos and Kayanza Hill joined green, Nubosa Natural joined roasted. */
const HARBOUR_LAMP: ProductionPlan = {
  parts: [
    { coffeeId: 1, parts: 50, roastGroup: 'washed' },
    { coffeeId: 2, parts: 30, roastGroup: 'washed' },
    { coffeeId: 3, parts: 20, roastGroup: null },
  ],
  coffees: [
    { ...CHIRINOS, lossBp: 1500, greenPriceCents: 600 },
    { ...KAYANZA_HILL, lossBp: 1500, greenPriceCents: 700 },
    { ...NUBOSA_NATURAL, lossBp: 1600, greenPriceCents: 1000 },
  ],
  groupLossBp: new Map(),
  measured: NOTHING_MEASURED,
  finishedMg: 10_000_000,
  pouredOnly: false,
};

/** A house whose drum takes a kilogram or more, so that no minimum charge gets in the way. */
const SMALL_DRUM = {
  name: '15 kg drum',
  capacityMg: 15_000_000,
  minimumChargeMg: 1_000_000,
  usableShare: 0.8,
  kind: 'production' as const,
};
const HOUSE = { ...FERNHOLLOW, drums: [SMALL_DRUM] };

describe('green and roasted shares', () => {
  // Mass balance, 50/50 at 12 % and 18 % loss: fixtures/trade/worked-examples.json.
  test('agree with the worked example in both directions', () => {
    const [example] = examplesOf('green-to-roasted');
    expect(roastedShares([50, 50], [1200, 1800])[0]?.toFixed(4)).toBe(
      String(example?.expected['share_light']),
    );
    expect(greenShares([50, 50], [1200, 1800])[0]?.toFixed(4)).toBe(
      String(example?.expected['green_share_for_50_50_roasted']),
    );
  });

  test('undo one another', () => {
    const parts = fc.array(fc.integer({ min: 1, max: 100 }), { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(
        parts,
        fc.array(fc.integer({ min: 0, max: 3000 }), { minLength: 5, maxLength: 5 }),
        (roasted, losses) => {
          const sum = roasted.reduce((a, b) => a + b, 0);
          roastedShares(greenShares(roasted, losses), losses).forEach((share, index) => {
            expect(share).toBeCloseTo((roasted[index] ?? 0) / sum, 9);
          });
        },
      ),
    );
  });

  // By hand: 5 kg at 12 % and 5 kg at 18 % take 5.6818 + 6.0976 = 11.7794 kg green: 1 − 10 / 11.7794 = 15.11 %.
  test('give a group’s loss from its coffees’ own', () => {
    expect(joinedLossBp([5, 5], [1200, 1800])).toBeCloseTo(1510.6, 1);
  });
});

describe('the production note of Harbour Lamp, mixed joining', () => {
  const note = productionNote(HARBOUR_LAMP, HOUSE);
  const [washed, natural] = note.groups;

  // By hand, 10 kg finished: 5 + 3 + 2 kg roasted. Washed: 8 kg / 0.85 = 9.4118 kg green, up to 9.42 kg in one load,
  // 5 : 3 of it 5.8875 and 3.5325 kg, on a 10 g scale 5.89 + 3.53. Natural: 2 / 0.84 = 2.381 kg, up to 2.39 kg.
  test('roasts the washed coffees together and the natural apart', () => {
    expect(note.roasted.map((weight) => weight.mg)).toEqual([5_000_000, 3_000_000, 2_000_000]);
    expect(note.groups).toHaveLength(2);
    expect(washed).toMatchObject({
      group: 'washed',
      roastedMg: 8_000_000,
      lossBp: 1500,
      lossFrom: 'coffees',
      loadMg: 9_420_000,
    });
    expect(washed?.perLoad.map((weight) => weight.mg)).toEqual([5_890_000, 3_530_000]);
    expect(washed?.charge).toMatchObject({
      loads: 1,
      greenMg: 9_420_000,
      roastedMg: 8_010_000,
      overMg: 10_000,
    });
    expect(natural).toMatchObject({ group: null, roastedMg: 2_000_000, lossBp: 1600, loadMg: 2_390_000 });
  });

  // By hand: 0.5 × 6 / 0.85 + 0.3 × 7 / 0.85 + 0.2 × 10 / 0.84 + 2.50 = 3.5294 + 2.4706 + 2.3810 + 2.50 = €10.88 a kg;
  // 250 g: €2.72; at a margin of 60 % of the price 10.8810 / 0.4 = €27.20 a kg, €6.80 a bag.
  test('costs what the parts, losses and roasting cost', () => {
    expect(note.cost).toEqual({
      ok: true,
      cost: {
        perKgCents: 1088,
        perBagCents: 272,
        marginBp: 6000,
        pricePerKgCents: 2720,
        pricePerBagCents: 680,
      },
    });
    expect(marginAt(1088, priceAt(1088, 6000))).toBe(6000);
    expect(marginAt(1000, 800)).toBe(-2500);
  });

  test('is scooped five, three and two, and weighed within half a point', () => {
    expect(note.scoops).toMatchObject({ scoops: [5, 3, 2], exact: [5, 3, 2] });
    expect(note.weighWithinMg).toBe(50_000);
    expect(note).toMatchObject({ preview: false });
  });

  // By hand: measured at 16 %, 8 kg take 9.5238 kg, up to 9.53 kg; cost 8/10 × (5/8 × 6 + 3/8 × 7) / 0.84 + … = €10.95.
  test('goes by the group’s own measured loss where there is one', () => {
    const measured = productionNote({ ...HARBOUR_LAMP, groupLossBp: new Map([['washed', 1600]]) }, HOUSE);
    expect(measured.groups[0]).toMatchObject({ lossBp: 1600, lossFrom: 'group', loadMg: 9_530_000 });
    expect(measured.cost).toMatchObject({ ok: true, cost: { perKgCents: 1095 } });
  });

  // By hand: 30 kg of blend are 24 kg washed, 28.2353 kg green; the drum is used to 12 kg: three loads of 9.42 kg.
  test('is roasted in equal loads that all weigh out alike', () => {
    const [group] = productionNote({ ...HARBOUR_LAMP, finishedMg: 30_000_000 }, HOUSE).groups;
    expect(group?.charge).toMatchObject({ loads: 3, greenMg: 28_260_000 });
    expect(group?.perLoad.map((weight) => weight.mg)).toEqual([5_890_000, 3_530_000]);
    expect(group?.green.map((weight) => weight.mg)).toEqual([17_670_000, 10_590_000]);
  });

  test('says what the drum’s minimum leaves over', () => {
    const small = productionNote(HARBOUR_LAMP, FERNHOLLOW);
    // By hand: 3.75 kg is a quarter of 15 kg; × 0.84 = 3.15 kg roasted, 1.15 kg beyond the 2 kg.
    expect(small.groups[1]?.charge).toMatchObject({ greenMg: 3_750_000, overMg: 1_150_000, atMinimum: true });
    expect(small.watch).toContain('Nubosa Natural: the drum’s minimum leaves about 1.15 kg roasted over.');
  });

  test('watches for losses that are only defaults and green that is short', () => {
    const [chirinos, kayanza, nubosa] = HARBOUR_LAMP.coffees;
    if (!chirinos || !kayanza || !nubosa) throw new Error('Harbour Lamp has three coffees.');
    const coffees = [chirinos, kayanza, { ...nubosa, lossBp: null, greenMg: 2_000_000 }];
    const { watch } = productionNote({ ...HARBOUR_LAMP, coffees }, HOUSE);
    expect(watch).toContain(
      'Nubosa Natural: the loss of 15.5 % is a default. Weigh green in and roasted out.',
    );
    expect(watch).toContain('Nubosa Natural: 2.37 kg green wanted, 2 kg in store.');
  });

  // By hand: 400 g at 5 : 3 take 470.6 g green, on a 100 g scale 500 g; 312.5 + 187.5 g of it are weighed as 300 + 200 g:
  // 60/40 instead of 62.5/37.5.
  test('warns when the scale is too coarse for the batch', () => {
    const coarse = { ...HOUSE, batchStepMg: 100_000, drums: [{ ...SMALL_DRUM, minimumChargeMg: 0 }] };
    const parts = HARBOUR_LAMP.parts.map((part) => ({ ...part, parts: [5, 3, 0][part.coffeeId - 1] ?? 0 }));
    const note = productionNote({ ...HARBOUR_LAMP, parts, finishedMg: 400_000 }, coarse);
    expect(note.watch).toContain(
      'Chirinos and Kayanza Hill: this scale shifts the ratio by 2.5 points. Weigh finer, or make a larger batch.',
    );
    expect(productionNote(HARBOUR_LAMP, HOUSE).groups[0]?.stepErrorPoints).toBeLessThan(0.05);
  });

  test('that was only poured is a preview and asks for a weighed blend', () => {
    const poured = productionNote({ ...HARBOUR_LAMP, pouredOnly: true }, HOUSE);
    expect(poured.preview).toBe(true);
    expect(poured.watch[0]).toContain('Weigh this blend and cup it before production.');
  });

  test('names the coffees whose price is not known instead of a cost', () => {
    const coffees = HARBOUR_LAMP.coffees.map((coffee) =>
      coffee.id === 3 ? { ...coffee, greenPriceCents: null } : coffee,
    );
    expect(productionNote({ ...HARBOUR_LAMP, coffees }, HOUSE).cost).toEqual({
      ok: false,
      priceMissing: ['Nubosa Natural'],
    });
  });
});

test('the cost does not depend on the size of the batch', () => {
  fc.assert(
    fc.property(fc.integer({ min: 100, max: 60_000 }), (grams) => {
      const { cost } = productionNote({ ...HARBOUR_LAMP, finishedMg: grams * 1000 }, HOUSE);
      expect(cost).toMatchObject({ ok: true, cost: { perKgCents: 1088 } });
    }),
  );
});

test('every weight list of a note adds up to its total at the scale step', () => {
  const parts = fc.array(fc.integer({ min: 1, max: 100 }), { minLength: 3, maxLength: 3 });
  const losses = fc.array(fc.integer({ min: 900, max: 2200 }), { minLength: 3, maxLength: 3 });
  fc.assert(
    fc.property(
      parts,
      losses,
      fc.integer({ min: 1000, max: 60_000_000 }),
      fc.constantFrom(1000, 10_000, 100_000),
      (ratio, loss, finishedMg, batchStepMg) => {
        const coffees = HARBOUR_LAMP.coffees.map((coffee, index) => ({
          ...coffee,
          lossBp: loss[index] ?? 0,
        }));
        const recipe = HARBOUR_LAMP.parts.map((part, index) => ({ ...part, parts: ratio[index] ?? 1 }));
        const note = productionNote(
          { ...HARBOUR_LAMP, coffees, parts: recipe, finishedMg },
          { ...HOUSE, batchStepMg },
        );
        const sum = (weights: readonly { readonly mg: number }[]) =>
          weights.reduce((total, weight) => total + weight.mg, 0);
        expect(sum(note.roasted)).toBe(note.finishedMg);
        expect(note.finishedMg - finishedMg).toBeLessThan(batchStepMg);
        expect(note.finishedMg).toBeGreaterThanOrEqual(finishedMg);
        for (const group of note.groups) {
          expect(sum(group.coffees)).toBe(group.roastedMg);
          expect(sum(group.perLoad)).toBe(group.loadMg);
          expect(sum(group.green)).toBe(group.charge.greenMg);
          expect(group.loadMg).toBeLessThanOrEqual(Math.max(12_000_000, batchStepMg));
          for (const weight of [...group.perLoad, ...group.green]) expect(weight.mg % batchStepMg).toBe(0);
        }
      },
    ),
  );
});

describe('when a coffee runs out', () => {
  const profile = new Map([
    ['blueberry', 6],
    ['cane sugar', 2],
  ]);
  const standIn = (
    id: number,
    name: string,
    role: 'highlight' | 'base',
    tasted: readonly [string, number][],
    availableMg = 1_000_000,
  ) => ({
    coffee: { ...NUBOSA_NATURAL, id, name, role, lossBp: 1600, greenPriceCents: 1200 },
    profile: new Map(tasted),
    availableMg,
  });

  test('the nearest by taste and role stands in, as a preview that says what to taste first', () => {
    const fern = standIn(8, 'Fern Natural', 'highlight', [
      ['blueberry', 3],
      ['cane sugar', 1],
    ]);
    const out = whenRunsOut(
      HARBOUR_LAMP,
      3,
      profile,
      [
        standIn(7, 'Brook Washed', 'base', [['black tea', 5]]),
        fern,
        standIn(
          9,
          'Twin Natural',
          'highlight',
          [
            ['blueberry', 6],
            ['cane sugar', 2],
          ],
          0,
        ),
      ],
      HOUSE,
    );
    expect(out?.nearest.map((near) => near.said)).toEqual([
      'Fern Natural: tastes 100 % alike, the same role.',
      'Brook Washed: tastes 0 % alike, usually base.',
    ]);
    const plan = withStandIn(HARBOUR_LAMP, 3, fern.coffee);
    expect(productionNote(plan, HOUSE)).toMatchObject({ preview: true });
    // By hand: 0.2 × (12 − 10) / 0.84 = €0.476 more.
    expect(out?.said).toEqual([
      'Taste Fern Natural alone beside Nubosa Natural, then in the blend, before it goes in.',
      'The blend costs €0.48 per kg more.',
    ]);
  });

  test('a coffee that was joined green is replaced by one roasted apart', () => {
    const fern = standIn(8, 'Fern Natural', 'base', []);
    const { groups } = productionNote(withStandIn(HARBOUR_LAMP, 1, fern.coffee), HOUSE);
    expect(groups.map((group) => [group.group, group.coffees.map((coffee) => coffee.name)])).toEqual([
      [null, ['Fern Natural']],
      ['washed', ['Kayanza Hill']],
      [null, ['Nubosa Natural']],
    ]);
    const out = whenRunsOut(HARBOUR_LAMP, 1, new Map(), [fern], HOUSE);
    expect(out?.said.join(' ')).toContain('roast Fern Natural apart until a trial says otherwise');
  });

  test('nothing to stand in is said', () => {
    expect(whenRunsOut(HARBOUR_LAMP, 3, profile, [], HOUSE)).toEqual({
      missing: 'Nubosa Natural',
      nearest: [],
      said: ['There is nothing to stand in for Nubosa Natural.'],
    });
    expect(whenRunsOut(HARBOUR_LAMP, 99, profile, [], HOUSE)).toBeNull();
  });
});
