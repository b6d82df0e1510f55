import { afterEach, beforeEach, expect, test } from 'vitest';
import { seedScenario } from '../../src/app/seed.js';
import { listCoffees } from '../../src/store/coffees.js';
import { listRecipes } from '../../src/store/recipes.js';
import { findRoast, insertRoast, listRoastsAlone, type Roast, strikeRoast } from '../../src/store/roasts.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';
import { depsAt } from '../commands/common/deps-at.js';

const AT = new Date('2026-11-25T09:00:00Z');

let open: OpenDatabase;
let coffeeId: number;
let recipeId: number;
beforeEach(async () => {
  open = await openDatabase(':memory:');
  await seedScenario(depsAt(open.db, AT.toISOString()), 'T1', new Map(), 'C1');
  coffeeId = (await listCoffees(open.db, 'T1'))[0]?.id ?? 0;
  recipeId = (await listRecipes(open.db, 'T1'))[0]?.id ?? 0;
});
afterEach(() => open.close());

function roast(facts: Partial<Roast>) {
  const plain = { recipeId: null, roastGroup: null, level: null, colour: null, remarks: null };
  const kept = { drum: null, confirmed: false, taken: [] };
  const weights = { greenMg: 1_000_000, roastedMg: 845_000, roastedOn: '2026-11-24' };
  return insertRoast(open.db, {
    ...plain,
    ...weights,
    ...kept,
    coffeeId,
    ...facts,
    workspace: 'T1',
    who: 'U0BRAM',
    at: AT,
  });
}

test('a coffee’s history holds its roasts alone, oldest first, without those inside a blend', async () => {
  const second = await roast({ roastedOn: '2026-11-24', colour: 61.5, level: 'medium', remarks: 'windy' });
  const first = await roast({ roastedOn: '2026-11-17' });
  await roast({ recipeId, roastGroup: 'Chirinos + Kayanza Hill' });
  const roasts = await listRoastsAlone(open.db, 'T1', coffeeId);
  expect(roasts.map((one) => one.id)).toEqual([first, second]);
  expect(roasts[1]).toMatchObject({ colour: 61.5, level: 'medium', remarks: 'windy', roastedMg: 845_000 });
});

test('more out than in is refused by the schema itself', async () => {
  await expect(roast({ greenMg: 500_000, roastedMg: 500_001 })).rejects.toThrow(/CHECK/);
});

test('a roast that is struck counts no more, and is found no more', async () => {
  const id = await roast({ drum: '15 kg drum', confirmed: true, taken: [{ coffeeId, mg: 1_000_000 }] });
  expect(await findRoast(open.db, 'T1', id)).toMatchObject({
    drum: '15 kg drum',
    confirmed: true,
    taken: [{ coffeeId, mg: 1_000_000 }],
  });
  expect(await findRoast(open.db, 'T2', id)).toBeNull();
  await strikeRoast(open.db, id, AT);
  expect(await findRoast(open.db, 'T1', id)).toBeNull();
  expect(await listRoastsAlone(open.db, 'T1', coffeeId)).toEqual([]);
});
