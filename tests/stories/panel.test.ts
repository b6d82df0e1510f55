import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { card, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

const TASTERS = ['noor', 'teo', 'mika', 'sol', 'wren', 'jun'];

async function tasteAndDecide(): Promise<void> {
  const table = await openTable(house);
  for (const who of TASTERS.slice(0, 5)) await house.as(who).say('A: dark chocolate. B: lemon', table.ts);
  await house.as('noor').say('A: smoky', table.ts);
  await house.as('teo').say('C: strawberry', table.ts);
  await house.as('jun').say('A: hazelnut. B: hazelnut', table.ts);
  for (const who of TASTERS) await house.as(who).say('E > D > F', table.ts);
  await house.as('ines').tap(table, 'table.close');
}

test('once the table is decided, each taster hears alone how their notes sat beside the table’s', async () => {
  house = await startStory();
  await tasteAndDecide();
  expect(await besideOf('noor')).toEqual([]);
  await house.as('ines').command('/spoon digest T1 12 kg');
  const [noors] = await besideOf('noor');
  expect(noors).toContain('You noted 2 cups and found 3 attributes.');
  // Five others noted each cup: four found dark chocolate, four lemon, nobody else smoke.
  expect(noors).toContain('dark chocolate in Chirinos (4 of the 5 others)');
  expect(noors).toContain('You alone found smoky in Chirinos');
  expect(noors).toContain('You put E (2:1:1) first, and so did all 5 others.');
  for (const who of TASTERS) {
    expect(noors).not.toMatch(new RegExp(`${house.id(who)}|\\b${who}\\b`, 'i'));
  }
  // Teo wrote three mentions; Mika two and Jun two, too few to set beside a table; Ines tasted nothing.
  expect(await besideOf('teo')).toHaveLength(1);
  for (const who of ['mika', 'jun', 'ines']) expect(await besideOf(who)).toEqual([]);
});

test('the numbers behind a digest name the tests and how far tasters agree, to anyone who taps', async () => {
  house = await startStory();
  await tasteAndDecide();
  await house.as('ines').command('/spoon digest T1 12 kg');
  const digest = await card(house, 'Digest T1');
  // Six of six, E over D over F: W = 1; sign test 2 × 0.5^6 = 0.03125, by Holm over two 0.0625: leaning.
  expect(wordsOf(digest)).toContain(
    'Leaning to E (2:1:1), not settled: 6 of 6 put it over D, 6 of 6 over F.',
  );
  expect(wordsOf(digest)).toContain('The 6 who placed all 3 agreed closely on the order: 1.00');
  await house.as('jun').tap(digest, 'digest.numbers');
  const page = JSON.stringify(await house.as('jun').form()).replaceAll('\u2060', '');
  expect(page).toContain('Friedman’s test, 6 tasters');
  expect(page).toContain('E over D 6, under it 0: p = 0.063');
  // Rank sums 6, 12, 18; least significant difference 1.96 √(6 × 3 × 4 / 6) = 6.79 (ISO 8587).
  expect(page).toContain('Rank sums: E 6, D 12, F 18; differences from 6.79 up count at 5 %.');
  expect(page).toContain('dark chocolate');
  expect(page).not.toMatch(/noor|teo|mika|wren/i);
});

async function besideOf(who: string): Promise<readonly string[]> {
  const direct = await house.as(who).direct();
  return direct.map(({ text }) => text).filter((text) => text.includes('your notes beside the table’s'));
}
