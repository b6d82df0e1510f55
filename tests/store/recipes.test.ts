import { afterEach, beforeEach, expect, test } from 'vitest';
import { seedScenario } from '../../src/app/seed.js';
import { listCoffees } from '../../src/store/coffees.js';
import {
  addRecipeVersion,
  archiveRecipe,
  findRecipe,
  findRecipeVersion,
  insertRecipe,
  listRecipes,
  listRecipeVersions,
  renameRecipe,
} from '../../src/store/recipes.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';
import { depsAt } from '../commands/common/deps-at.js';

const AT = new Date('2026-11-25T09:00:00Z');
const LATER = new Date('2026-12-04T16:00:00Z');

let open: OpenDatabase;
beforeEach(async () => {
  open = await openDatabase(':memory:');
  await seedScenario(depsAt(open.db, AT.toISOString()), 'T1', new Map(), 'C1');
});
afterEach(() => open.close());

async function harbour() {
  const [blend] = await listRecipes(open.db, 'T1');
  if (!blend) throw new Error('the demo has a blend');
  return blend;
}

test('a winning ratio becomes the next version; the old one stays as it was', async () => {
  const before = await harbour();
  const versionId = await addRecipeVersion(open.db, {
    workspace: 'T1',
    recipeId: before.id,
    parts: before.parts.map((part, index) => ({ ...part, parts: [2, 2, 1][index] ?? 1 })),
    groupLossBp: new Map([['Chirinos + Kayanza Hill', 1530]]),
    why: 'T1 put it first.',
    tastingId: 7,
    who: 'U0INES',
    at: LATER,
  });
  const now = await findRecipe(open.db, 'T1', before.id);
  expect(now).toMatchObject({ versionId, version: 2, name: 'Harbour Lamp' });
  expect(now?.parts.map((part) => part.parts)).toEqual([2, 2, 1]);
  expect(now?.groupLossBp).toEqual(new Map([['Chirinos + Kayanza Hill', 1530]]));
  expect(await findRecipeVersion(open.db, 'T1', before.versionId)).toEqual(before);
  expect(await listRecipeVersions(open.db, 'T1', before.id)).toMatchObject([
    { why: 'T1 put it first.', tastingId: 7, who: 'U0INES', at: LATER },
    { why: 'The blend as it is sold.', tastingId: null, at: AT },
  ]);
});

test('a renamed blend keeps its history under the new name', async () => {
  const before = await harbour();
  await renameRecipe(open.db, 'T1', before.id, 'Harbour Light');
  expect((await findRecipeVersion(open.db, 'T1', before.versionId))?.name).toBe('Harbour Light');
});

test('an archived blend leaves the list and is still found by its tastings', async () => {
  const before = await harbour();
  await archiveRecipe(open.db, 'T1', before.id, LATER);
  expect(await listRecipes(open.db, 'T1')).toEqual([]);
  expect(await findRecipeVersion(open.db, 'T1', before.versionId)).toEqual(before);
});

test('no other workspace finds it', async () => {
  const before = await harbour();
  expect(await findRecipe(open.db, 'T2', before.id)).toBeNull();
  expect(await findRecipeVersion(open.db, 'T2', before.versionId)).toBeNull();
  expect(await listRecipeVersions(open.db, 'T2', before.id)).toEqual([]);
});

test('a coffee cannot stand twice in one blend', async () => {
  const [coffee] = await listCoffees(open.db, 'T1');
  const part = { coffeeId: coffee?.id ?? 0, parts: 1, roastGroup: null };
  const version = {
    why: 'x',
    tastingId: null,
    who: 'U0INES',
    at: AT,
    groupLossBp: new Map<string, number>(),
  };
  const twice = insertRecipe(open.db, { ...version, workspace: 'T1', name: 'Twice', parts: [part, part] });
  await expect(twice).rejects.toThrow(/UNIQUE/);
});
