import { afterEach, beforeEach, expect, test } from 'vitest';
import { seedScenario } from '../../../src/app/seed.js';
import { recipe } from '../../../src/commands/recipes/recipe.js';
import { shelf } from '../../../src/commands/shelf/shelf.js';
import { insertRecipe, listRecipes, listRecipeVersions } from '../../../src/store/recipes.js';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { depsAt } from '../common/deps-at.js';
import { playFeature, textsOf } from '../common/play-feature.js';
import { longName, sixtyCoffees } from '../shelf/many-coffees.js';

const NOW = '2026-11-25T09:00:00Z';

let open: OpenDatabase;
let play: ReturnType<typeof playFeature>;
let playShelf: ReturnType<typeof playFeature>;

beforeEach(async () => {
  open = await openDatabase(':memory:');
  const deps = depsAt(open.db, NOW);
  await seedScenario(deps, 'T1', new Map([['ines', 'U0INES']]), 'C1');
  play = playFeature(recipe, deps);
  playShelf = playFeature(shelf, deps);
});
afterEach(() => open.close());

async function blend(name: string) {
  return (await listRecipes(open.db, 'T1')).find((known) => known.name === name);
}

test('the card shows shares that add up, what is joined how, and the cost', async () => {
  const said = textsOf(await play.type('harbour'));
  expect(said).toContain('50.0 % *Chirinos* · base');
  expect(said).toContain('Joined green: Chirinos + Kayanza Hill');
  expect(said).toContain('Joined roasted: Nubosa Natural');
  // By hand: 0.5 × 7.20 / 0.845 + 0.3 × 8.60 / 0.85 + 0.2 × 11.40 / 0.86 + 2.50 roasting
  // = 4.2604 + 3.0353 + 2.6512 + 2.50 = 12.4468, so 12.45 per kg, 3.11 per 250 g and 31.12 at 60 %.
  expect(said).toContain('€12.45 per kg, €3.11 per 250 g bag; at 60 % margin €31.12 per kg');
  expect(said).toContain('Chirinos exists only in blends');
  expect(said).toContain('Version 1, Wed 25 Nov, <@U0INES>: The blend as it is sold.');
});

test('a blend is added by words, in the order in which its coffees are named', async () => {
  await play.type(
    'add "Pier Light" nubosa 20 chirinos 50 and kayanza hill 30 green chirinos+kayanza loss 15.3% because sweeter',
  );
  const added = await blend('Pier Light');
  expect(added?.parts.map((part) => part.parts)).toEqual([20, 50, 30]);
  expect(added?.parts.map((part) => part.roastGroup)).toEqual([
    null,
    'Chirinos + Kayanza Hill',
    'Chirinos + Kayanza Hill',
  ]);
  expect(added?.groupLossBp.get('Chirinos + Kayanza Hill')).toBe(1530);
  const [version] = await listRecipeVersions(open.db, 'T1', added?.id ?? 0);
  expect(version).toMatchObject({ why: 'sweeter', who: 'U0INES' });
});

test.each([
  ['add Pier Light chirinos 2 kayanza 1 nubosa 1', [2, 1, 1]],
  ['add "Pier Light" 50% chirinos, 25% kayanza, 25% nubosa', [50, 25, 25]],
  ['add "Pier Light" peru 12.5 burundi 37.5 costa 50', [1, 3, 4]],
])('`recipe %s` reads its parts', async (words, parts) => {
  await play.type(words);
  expect((await blend('Pier Light'))?.parts.map((part) => part.parts)).toEqual(parts);
});

test('a number in a coffee’s name stays with the name', async () => {
  await playShelf.type('add "Kayanza 2026" base');
  await play.type('add "Pier Light" kayanza 2026 60 chirinos 40');
  expect((await blend('Pier Light'))?.parts.map((part) => part.parts)).toEqual([60, 40]);
});

// Common practice, no source: "30/30/30" means equal thirds.
test('percentages that miss 100 are read as parts and said so', async () => {
  const said = textsOf(await play.type('add "Pier Light" chirinos 30 kayanza 30 nubosa 30'));
  expect(said).toContain('30 / 30 / 30 adds up to 90, so I read it as equal parts');
  expect(said).toMatch(/33\.4 % \*Chirinos[\s\S]*33\.3 % \*Kayanza[\s\S]*33\.3 % \*Nubosa/);
});

test('a new ratio for a blend becomes its next version and keeps its roast groups', async () => {
  const said = textsOf(await play.type('"Harbour Lamp" 40/40/20 because rounder'));
  expect(said).toContain('Kept as a new version.');
  const now = await blend('Harbour Lamp');
  expect(now).toMatchObject({ version: 2 });
  expect(now?.parts.map((part) => [part.parts, part.roastGroup])).toEqual([
    [40, 'Chirinos + Kayanza Hill'],
    [40, 'Chirinos + Kayanza Hill'],
    [20, null],
  ]);
  const versions = await listRecipeVersions(open.db, 'T1', now?.id ?? 0);
  expect(versions.map((version) => [version.recipe.version, version.why])).toEqual([
    [2, 'rounder'],
    [1, 'The blend as it is sold.'],
  ]);
});

test('the same ratio again is no new version', async () => {
  const said = textsOf(await play.type('harbour 50/30/20'));
  expect(said).toContain('nothing changed');
  expect((await blend('Harbour Lamp'))?.version).toBe(1);
});

test('only the joining can be changed', async () => {
  await play.type('harbour roasted chirinos');
  expect((await blend('Harbour Lamp'))?.parts.map((part) => part.roastGroup)).toEqual([null, null, null]);
  await play.type('harbour green kayanza+nubosa');
  const groups = (await blend('Harbour Lamp'))?.parts.map((part) => part.roastGroup);
  expect(groups).toEqual([null, 'Kayanza Hill + Nubosa Natural', 'Kayanza Hill + Nubosa Natural']);
});

test('an older version can be taken up again, as the newest', async () => {
  await play.type('harbour 40/40/20');
  const history = await play.tap(await play.type('harbour'), '2 versions');
  expect(textsOf(history)).toMatch(/40\/40\/20\* · Version 2[\s\S]*50\/30\/20\* · Version 1/);
  await play.pick(history, 'Version 1: 50/30/20');
  const now = await blend('Harbour Lamp');
  expect(now?.version).toBe(3);
  expect(now?.parts.map((part) => part.parts)).toEqual([50, 30, 20]);
});

test.each([
  ['add "Pier Light" chirinos 50 zanzibar 50', 'I know no coffee called “zanzibar”.'],
  ['add "Pier Light" chirinos 50 peru 50', 'Chirinos is named twice. Give each coffee one part.'],
  [
    'add "Pier Light" chirinos 50 kayanza 50 green chirinos+nubosa',
    'Nubosa Natural is not part of this blend.',
  ],
  ['add "Pier Light" chirinos 50 kayanza 50 green chirinos', 'Joined green takes at least two coffees.'],
  ['add "Pier Light" chirinos 100', 'A blend needs at least two coffees with a part each.'],
  ['add "Harbour lamp" chirinos 50 nubosa 50', 'There is a blend called Harbour Lamp already.'],
])('`recipe %s` is refused kindly', async (words, sentence) => {
  await expect(play.type(words)).rejects.toMatchObject({ message: sentence });
  expect(await listRecipes(open.db, 'T1')).toHaveLength(1);
});

test('the form adds a blend, and can grow by a coffee', async () => {
  await playShelf.type('add "Serra Azul" base');
  const opened = await play.tap(await play.type(''), 'Add a blend');
  const [a = '', b = '', c = '', d = ''] = await ids(
    'Chirinos',
    'Kayanza Hill',
    'Nubosa Natural',
    'Serra Azul',
  );
  const filled = {
    name: 'Pier Light',
    coffee1: a,
    part1: '40',
    coffee2: b,
    part2: '30',
    coffee3: c,
    part3: '20',
  };
  const grown = await play.tap(opened, 'One more coffee', filled);
  const saved = await play.submit(grown, { coffee4: d, part4: '10', green: [a, b], why: 'For the pier' });
  expect(textsOf(saved)).toContain('Added *Pier Light*.');
  const added = await blend('Pier Light');
  expect(added?.parts.map((part) => part.parts)).toEqual([40, 30, 20, 10]);
  expect(added?.parts.map((part) => part.roastGroup !== null)).toEqual([true, true, false, false]);
});

test('the form says beside the field what is missing', async () => {
  const opened = await play.tap(await play.type(''), 'Add a blend');
  const [a = ''] = await ids('Chirinos');
  const refused = await play.submit(opened, {
    name: 'X',
    coffee1: a,
    coffee2: a,
    part2: 'half',
    part3: '20',
  });
  expect(Object.keys(refused.errors ?? {}).sort()).toEqual(['coffee2', 'coffee3', 'part1', 'part2']);
});

test('the form of a blend that is there opens filled in, and saving it untouched changes nothing', async () => {
  const opened = await play.tap(await play.type('harbour'), 'Change');
  const saved = await play.submit(opened, {});
  expect(textsOf(saved)).toContain('its parts are as they were');
  expect((await blend('Harbour Lamp'))?.version).toBe(1);
});

test('a missing green price is named instead of a cost', async () => {
  await playShelf.type('add "Serra Azul" base');
  const said = textsOf(await play.type('add "Pier Light" serra 50 nubosa 50'));
  expect(said).toContain('the green price of Serra Azul is missing');
});

test('a blend is renamed and archived', async () => {
  await play.type('rename harbour "Harbour Light"');
  expect((await blend('Harbour Light'))?.version).toBe(1);
  await play.tap(await play.type('harbour'), 'Archive');
  expect(await listRecipes(open.db, 'T1')).toEqual([]);
});

test('many long-named blends of many coffees stay within Slack’s limits', async () => {
  await sixtyCoffees(open.db);
  const rows = await open.db.selectFrom('coffee').select('id').where('name', 'like', '&%').execute();
  const parts = rows
    .slice(0, 12)
    .map(({ id }, index) => ({ coffeeId: id, parts: index + 1, roastGroup: 'all of them' }));
  for (let index = 0; index < 40; index += 1) {
    const version = { why: 'w'.repeat(200), tastingId: null, who: 'U0INES', at: new Date(NOW) };
    const groupLossBp = new Map([['all of them', 1530]]);
    await insertRecipe(open.db, { ...version, workspace: 'T1', name: longName(index), parts, groupLossBp });
  }
  const list = await play.type('');
  const card = await playShelf.type(`"${longName(0)}"`);
  expect(textsOf(card)).toContain('In &amp;WWW');
  const form = await play.tap(await play.type(`"${longName(3)}"`), 'Change');
  expect(form.form?.callback_id).toBe('recipe.form');
  expect((await play.tap(list, 'Add a blend')).form?.callback_id).toBe('recipe.form');
});

async function ids(...names: readonly string[]): Promise<readonly string[]> {
  const rows = await open.db.selectFrom('coffee').select(['id', 'name']).execute();
  return names.map((name) => String(rows.find((row) => row.name === name)?.id));
}
