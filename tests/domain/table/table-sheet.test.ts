import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { doseFor } from '../../../src/domain/table/dose.js';
import {
  extractionYield,
  strengthHint,
  swallowedCaffeineMg,
} from '../../../src/domain/table/table-instructions.js';
import { tableSheet } from '../../../src/domain/table/table-sheet.js';
import { examplesOf } from '../measure/worked-examples.js';
import { FERNHOLLOW, harbourLampTable, NUBOSA_NATURAL } from './harbour-lamp.js';

const plan = harbourLampTable(false);

describe('the dose', () => {
  // SCA Coffee Standards (2018): 8.25 g per 150 mL, scaled; fixtures/trade/worked-examples.json.
  test('follows the published ratio for any bowl', () => {
    const [example] = examplesOf('cupping-dose');
    const doses = z.record(z.string(), z.array(z.number())).parse(example?.expected);
    expect(Object.keys(doses)).toHaveLength(4);
    for (const [bowl, [grams]] of Object.entries(doses)) {
      const dose = doseFor('cupping', 6, {
        ...FERNHOLLOW,
        vesselMl: Number.parseInt(bowl, 10),
        scaleStepMg: 1,
      });
      expect(dose.doseMg).toBeCloseTo((grams ?? 0) * 1000, 0);
    }
  });

  test.each([
    [200, 11_000],
    [207, 11_400],
    [240, 13_200],
    [266, 14_600],
  ])('of a %i mL bowl is %i mg on a 0.1 g scale', (vesselMl, doseMg) => {
    expect(doseFor('cupping', 6, { ...FERNHOLLOW, vesselMl }).doseMg).toBe(doseMg);
  });

  // By hand: 7 servings of 45 mL are 315 mL; the grounds keep 2 mL per g, 110 mL per L: 315 / 0.89 = 353.9,
  // brewed with 360 mL; at 55 g/L 19.8 g.
  test('of a brewed batch serves everyone and one more', () => {
    expect(doseFor('brewed', 6, FERNHOLLOW)).toEqual({
      format: 'brewed',
      doseMg: 19_800,
      waterMl: 360,
      vessels: 1,
    });
  });
});

describe('several tables set alike', () => {
  // By hand: 13 tasters at two tables are 7 and 6; 8 servings of 45 mL are 360 mL; 360 / 0.89 = 404.5, brewed with
  // 410 mL; at 55 g/L 22.55, to 0.1 g 22.6 g.
  test('brew on each for the fuller table', () => {
    expect(doseFor('brewed', 13, FERNHOLLOW, 2)).toMatchObject({ waterMl: 410, doseMg: 22_600 });
    expect(doseFor('brewed', 7, FERNHOLLOW, 1)).toEqual(doseFor('brewed', 13, FERNHOLLOW, 2));
  });

  test('cup the same bowls whoever comes', () => {
    expect(doseFor('cupping', 13, FERNHOLLOW, 2)).toEqual(doseFor('cupping', 6, FERNHOLLOW));
  });

  test('seat every taster once, as evenly as they can', () => {
    const tasters = Array.from({ length: 13 }, (_, index) => `Guest ${index + 1}`);
    const { orders } = tableSheet({ ...plan, tasters, tables: 2 }, FERNHOLLOW);
    expect(orders.map((order) => order.taster)).toEqual(tasters);
    expect(orders.map((order) => order.table)).toEqual([1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2]);
  });
});

describe('roast ages', () => {
  const roasted = (...days: readonly string[]) =>
    tableSheet(
      { ...plan, roasted: days.map((day, index) => ({ coffeeId: index + 1, roastedOn: day })) },
      FERNHOLLOW,
    ).remarks.join(' ');

  test('within a day of each other are not worth a word', () => {
    expect(roasted('2026-11-25', '2026-11-26', '2026-11-26')).not.toContain('Roast ages');
  });

  test('further apart are told, oldest first, because age tastes', () => {
    expect(roasted('2026-11-26', '2026-11-19', '2026-11-24')).toContain(
      'Roast ages differ: Kayanza Hill 8 days, Nubosa Natural 3 days and Chirinos 1 day off the roast.',
    );
  });
});

describe('the table sheet', () => {
  const sheet = tableSheet(plan, FERNHOLLOW);

  test('weighs Harbour Lamp to the scale step, adding up to the dose', () => {
    expect(sheet.cups.map((cup) => cup.weigh.map((weighing) => weighing.mg))).toEqual([
      [11_400],
      [11_400],
      [11_400],
      [5700, 3400, 2300],
      [5700, 2900, 2800],
    ]);
    expect(sheet.cups.map((cup) => cup.scoops?.scoops ?? null)).toEqual([
      null,
      null,
      null,
      [5, 3, 2],
      [2, 1, 1],
    ]);
    expect(sheet.cups[3]?.what).toBe('Chirinos 50 %, Kayanza Hill 30 %, Nubosa Natural 20 %');
  });

  test('tells the time from the pour, in the house’s time', () => {
    const clock = new Map(sheet.timeline.map((moment) => [moment.clock, moment.what]));
    expect(clock.get('14:00')).toContain('Pour');
    // Crust broken at four minutes: cupping guides; grounds at most 15 minutes old: SCA(A) protocol.
    expect(clock.get('14:04')).toContain('Break the crust');
    expect(clock.get('13:45')).toContain('Grind, not earlier');
    const summer = tableSheet({ ...plan, start: new Date('2027-03-29T13:00:00Z') }, FERNHOLLOW);
    expect(summer.when).toBe('Monday 29 March, 14:00');
    expect(summer.timeline.map((moment) => moment.clock)).toContain('14:04');
  });

  test('says that a coffee roasted alone differs from the blend', () => {
    expect(sheet.remarks).toEqual([
      'Chirinos was roasted alone for this table; inside the blend it roasts a little differently.',
    ]);
  });

  test('gives each taster an order of cups', () => {
    expect(sheet.orders.map((order) => order.taster)).toEqual(plan.tasters);
    for (const { cups } of sheet.orders) expect([...cups].sort()).toEqual(['A', 'B', 'C', 'D', 'E']);
    expect(sheet.orderNote).toBe('Nearly balanced over 6; fully with 10 tasters.');
  });

  test('leaves out a dropped cup', () => {
    const cups = plan.cups.map((cup) =>
      cup.label === 'A' ? { ...cup, droppedAt: new Date('2026-11-26T09:00:00Z') } : cup,
    );
    const without = tableSheet({ ...plan, cups }, FERNHOLLOW);
    expect(without.cups.map((cup) => cup.name)).toEqual(['B', 'C', 'D', 'E']);
    expect(without.remarks).toEqual([]);
  });

  test('adds up for any parts, dose and scale step', () => {
    const parts = fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 3, maxLength: 3 });
    const bowls = fc.integer({ min: 100, max: 400 });
    fc.assert(
      fc.property(parts, bowls, fc.constantFrom(10, 50, 100, 500, 1000), (ratio, vesselMl, scaleStepMg) => {
        fc.pre(ratio.some((part) => part > 0));
        const blend = { label: 'A', code: null, kind: 'ratio' as const, droppedAt: null };
        const cups = [
          { ...blend, parts: ratio.map((part, index) => ({ coffeeId: index + 1, parts: part })) },
        ];
        const [cup] = tableSheet({ ...plan, cups }, { ...FERNHOLLOW, vesselMl, scaleStepMg }).cups;
        const dose = doseFor('cupping', 6, { ...FERNHOLLOW, vesselMl, scaleStepMg });
        expect(cup?.weigh.reduce((sum, weighing) => sum + weighing.mg, 0)).toBe(dose.doseMg);
        for (const weighing of cup?.weigh ?? []) expect(weighing.mg % scaleStepMg).toBe(0);
      }),
    );
  });
});

describe('extraction', () => {
  // Brewing article: 20 g and 300 mL at 1.33 % strength give 19.95 %, printed as 20 %: fixtures/trade/worked-examples.json.
  test('agrees with the published example', () => {
    const [example] = examplesOf('extraction-yield');
    expect([Number(extractionYield(300, 1.33, 20_000).toFixed(2))]).toEqual(example?.expected['yield']);
  });

  // By hand: 19.8 g to 360 mL leave 320.4 mL; × 1.15 % / 19.8 g is 18.6 %, × 1.35 % is 21.8 %: inside the 18–22 % of
  // the SCAA Golden Cup standard (2015).
  test('of the house’s brewed batch is told for a refractometer', () => {
    expect(strengthHint(doseFor('brewed', 6, FERNHOLLOW))).toBe(
      'With a refractometer: 1.15–1.35 % strength is 18.6–21.8 % extraction here; keep all samples alike.',
    );
  });
});

describe('cautions', () => {
  test('of scalds, shared bowls, caffeine and allergens are on every sheet', () => {
    const text = tableSheet(plan, FERNHOLLOW).cautions.join('\n');
    for (const word of ['Scalds', 'Shared bowls', 'Caffeine', 'Allergens', 'trained people'])
      expect(text).toContain(word);
  });

  // EFSA (2015) by way of summaries: 0.45 mg/mL; six samples × five cups × three passes × 4.5 mL are 405 mL, 180 mg.
  test('count caffeine as the published example does', () => {
    expect(swallowedCaffeineMg({ format: 'cupping', bowls: 30, serveMl: 45 })).toBe(180);
  });

  test('name a flavour-added lot when cups are named, and not which it is when blind', () => {
    const infused = { ...NUBOSA_NATURAL, flavourAdded: 'cinnamon infusion' };
    const coffees = [...plan.coffees.slice(0, 2), infused];
    expect(tableSheet({ ...plan, coffees }, FERNHOLLOW).cautions.join('\n')).toContain(
      'Nubosa Natural (cinnamon infusion) is not plain coffee',
    );
    const blind = tableSheet({ ...harbourLampTable(true), coffees }, FERNHOLLOW);
    expect(blind.cautions.join('\n')).toContain('something added: cinnamon infusion');
    expect(blind.cautions.join('\n')).not.toContain('Nubosa');
    expect(blind.remarks.join('\n')).toContain('Nubosa Natural has something added');
  });
});

test('a brewed table brews in batches and serves in cups', () => {
  const sheet = tableSheet({ ...plan, format: 'brewed' }, FERNHOLLOW);
  expect(sheet.dose.vessels).toBe(1);
  expect(sheet.setOut.join('\n')).toContain('5 flasks, all alike');
  expect(sheet.timeline.map((moment) => moment.what).join('\n')).toContain(
    'Serve all samples within ten minutes',
  );
});
