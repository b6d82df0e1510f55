import { afterEach, expect, test } from 'vitest';
import { seedScenario } from '../../src/app/seed.js';
import { restState } from '../../src/domain/roast/shelf.js';
import { localDay, weekdayOf } from '../../src/domain/when/local-day.js';
import { listCoffees } from '../../src/store/coffees.js';
import { loadHouse, saveHouse } from '../../src/store/house.js';
import { listRecipes } from '../../src/store/recipes.js';
import { listLots } from '../../src/store/shelf.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';
import { depsAt } from '../commands/common/deps-at.js';

let open: OpenDatabase | undefined;
afterEach(async () => open?.close());

const PEOPLE = new Map([
  ['ines', 'U0INES'],
  ['bram', 'U0BRAM'],
]);

async function seeded(now: string) {
  open = await openDatabase(':memory:');
  const deps = depsAt(open.db, now);
  await seedScenario(deps, 'T1', PEOPLE, 'C1');
  return { deps, db: open.db };
}

test('the demo roastery has its blend, its people and its drums', async () => {
  const { db } = await seeded('2026-11-25T09:00:00Z');
  const house = await loadHouse(db, 'T1');
  expect(house).toMatchObject({ timeZone: 'Europe/Lisbon', roasterPerson: 'U0BRAM', stewards: ['U0INES'] });
  expect(house.drums.map((drum) => drum.capacityMg)).toEqual([15_000_000, 1_000_000]);
  const [blend] = await listRecipes(db, 'T1');
  expect(blend).toMatchObject({ name: 'Harbour Lamp', version: 1 });
  expect(blend?.parts.map((part) => part.parts)).toEqual([50, 30, 20]);
  const groups = blend?.parts.map((part) => part.roastGroup) ?? [];
  expect(groups[0]).toBe(groups[1]);
  expect(groups[2]).toBeNull();
});

test.each([
  '2026-11-23T09:00:00Z',
  '2026-11-24T09:00:00Z',
  '2026-11-25T09:00:00Z',
  '2026-11-26T09:00:00Z',
  '2026-11-27T23:30:00Z',
  '2026-11-28T09:00:00Z',
  '2026-11-29T09:00:00Z',
])('seeded on %s, both coffees sold alone are good for a table ten days on', async (now) => {
  const { db } = await seeded(now);
  const lots = await listLots(db, 'T1');
  expect(lots).toHaveLength(2);
  const table = localDay(new Date(Date.parse(now) + 10 * 24 * 3_600_000), 'Europe/Lisbon');
  for (const lot of lots) {
    expect([2, 4]).toContain(weekdayOf(lot.roastedOn));
    expect(restState(lot, { minDays: 1, maxDays: 14 }, table)).toBe('good');
  }
});

test('Chirinos exists only in blends and nothing of it is roasted alone', async () => {
  const { db } = await seeded('2026-11-25T09:00:00Z');
  const chirinos = (await listCoffees(db, 'T1')).find((coffee) => coffee.name === 'Chirinos');
  expect(chirinos?.soldAlone).toBe(false);
  const lots = await listLots(db, 'T1');
  expect(lots.filter((lot) => lot.coffeeId === chirinos?.id)).toEqual([]);
});

test('seeding again leaves what people changed as it is', async () => {
  const { deps, db } = await seeded('2026-11-25T09:00:00Z');
  await saveHouse(db, 'T1', { roastDays: [5] }, 'U0INES', deps.clock.now());
  await seedScenario(deps, 'T1', PEOPLE, 'C1');
  expect((await loadHouse(db, 'T1')).roastDays).toEqual([5]);
  expect(await listCoffees(db, 'T1')).toHaveLength(3);
  expect(await listLots(db, 'T1')).toHaveLength(2);
  expect(await listRecipes(db, 'T1')).toHaveLength(1);
});
