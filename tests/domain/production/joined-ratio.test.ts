import { describe, expect, test } from 'vitest';
import { joinedRatio, roastsOfGroup } from '../../../src/domain/production/joined-ratio.js';
import { productionNote } from '../../../src/domain/production/production-note.js';
import { greenOfGroup, NOTHING_MEASURED } from '../../../src/domain/production/roast-groups.js';
import type { Recipe } from '../../../src/domain/record/recipe.js';
import { estimateLoss } from '../../../src/domain/roast/loss.js';
import { CHIRINOS, FERNHOLLOW, KAYANZA_HILL, NUBOSA_NATURAL } from '../table/harbour-lamp.js';

const WASHED = 'washed';

function recipe(version: number, groups: readonly (string | null)[]): Recipe {
  return {
    id: 1,
    name: 'Harbour Lamp',
    versionId: version,
    version,
    parts: [50, 30, 20].map((parts, index) => ({
      coffeeId: index + 1,
      parts,
      roastGroup: groups[index] ?? null,
    })),
    groupLossBp: new Map([[WASHED, 1540]]),
  };
}

const day = (date: string) => new Date(`${date}T12:00:00Z`);
const two = recipe(1, [WASHED, WASHED, null]);
const three = recipe(2, [WASHED, WASHED, WASHED]);

describe('the roasts that speak for a group', () => {
  const versions = [
    { recipe: two, at: day('2026-09-01') },
    { recipe: three, at: day('2026-10-01') },
    { recipe: { ...two, version: 3 }, at: day('2026-11-01') },
  ];
  const roasts = ['2026-09-10', '2026-10-10', '2026-11-10'].map((date) => ({ recordedAt: day(date) }));

  test('are those made while it held the same coffees', () => {
    const speaking = roastsOfGroup(roasts, WASHED, two, versions);
    expect(speaking.map((roast) => roast.recordedAt.getUTCMonth() + 1)).toEqual([9, 11]);
    expect(roastsOfGroup(roasts, WASHED, three, versions)).toHaveLength(1);
  });

  test('none from before the recipe was', () => {
    expect(roastsOfGroup([{ recordedAt: day('2026-08-01') }], WASHED, two, versions)).toEqual([]);
  });
});

describe('a ratio joined as its recipe is', () => {
  const ratio = (...parts: readonly number[]) =>
    parts.map((part, index) => ({ coffeeId: index + 1, parts: part })).filter((part) => part.parts > 0);

  test('keeps its groups and what was measured of them', () => {
    const joined = joinedRatio(ratio(2, 1, 1), two);
    expect(joined.parts.map((part) => [part.parts, part.roastGroup])).toEqual([
      [2, WASHED],
      [1, WASHED],
      [1, null],
    ]);
    expect([...joined.groupLossBp]).toEqual([[WASHED, 1540]]);
  });

  test('leaves a coffee roasted on its own when the other of its group is left out', () => {
    const joined = joinedRatio(ratio(3, 0, 1), two);
    expect(joined.parts.map((part) => part.roastGroup)).toEqual([null, null]);
    expect(joined.groupLossBp.size).toBe(0);
  });

  test('holds nothing for measured of a group that has lost one of three', () => {
    const joined = joinedRatio(ratio(1, 1, 0), three);
    expect(joined.parts.map((part) => part.roastGroup)).toEqual([WASHED, WASHED]);
    expect(joined.wholeGroups.size).toBe(0);
  });
});

describe('a production note with measured losses', () => {
  const DRUM = {
    ...{ name: '15 kg drum', capacityMg: 15_000_000, minimumChargeMg: 1_000_000, usableShare: 0.8 },
    kind: 'production' as const,
  };
  const plan = {
    parts: two.parts,
    coffees: [CHIRINOS, KAYANZA_HILL, NUBOSA_NATURAL].map((coffee) => ({ ...coffee, lossBp: 1500 })),
    groupLossBp: new Map([[WASHED, 1500]]),
    measured: NOTHING_MEASURED,
    finishedMg: 10_000_000,
    pouredOnly: false,
  };
  const house = { ...FERNHOLLOW, drums: [DRUM] };
  const roasted = (greenMg: number, roastedMg: number) => ({ greenMg, roastedMg });
  const group = estimateLoss([roasted(10_000_000, 8_400_000), roasted(10_000_000, 8_300_000)], 1500);
  const alone = estimateLoss([roasted(1_000_000, 880_000)], 1500);
  const measured = { groups: new Map([[WASHED, group]]), coffees: new Map([[3, alone]]) };
  const note = productionNote({ ...plan, measured }, house);

  // By hand: 16 % and 17 % are 16.5 % on average; 8 kg / 0.835 is 9.581 kg, up to 10 g 9.59 kg. Nubosa Natural lost
  // 12 % in its own roast: 2 kg / 0.88 is 2.273 kg, 2.28 kg.
  test('charges by them before the figures that are kept', () => {
    expect(note.groups.map((one) => [one.lossBp, one.charge.greenMg, one.lossFrom])).toEqual([
      [1650, 9_590_000, 'group'],
      [1200, 2_280_000, 'coffees'],
    ]);
  });

  // By hand, two batches: s = 0.7071 points, t(1) = 12.706 (NIST table 1.3.6.7.2): ± 12.706 × 0.7071 × √1.5 = 11.0
  // points for the next one; a single batch gets ± 2 points.
  test('says how far the next roast may stray', () => {
    const [together, single] = note.groups.map((one) => one.measured);
    expect(together?.nextLowBp).toBeCloseTo(550, -1);
    expect(together?.nextHighBp).toBeCloseTo(2750, -1);
    expect(single).toMatchObject({ nextLowBp: 1000, nextHighBp: 1400, batches: 1 });
  });

  test('no longer asks for a first roast to be weighed', () => {
    expect(note.watch.join(' ')).not.toContain('not measured yet');
    expect(productionNote({ ...plan, groupLossBp: new Map() }, house).watch.join(' ')).toContain(
      'roasted together, their loss is not measured yet',
    );
  });
});

// By hand: 50/30 roasted at 15 % each takes green 62.5/37.5: 6.25 and 3.75 kg of 10 kg.
test('the green of a group’s charge is taken from the store coffee by coffee', () => {
  expect(greenOfGroup(10_000_000, [5, 3], [1500, 1500], 1)).toEqual([6_250_000, 3_750_000]);
});
