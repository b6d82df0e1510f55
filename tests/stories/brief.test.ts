import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

test('the brief stands beside liking in the decision and the digest, and changes neither', async () => {
  house = await startStory();
  const table = await openTable(house, `${BOOKING} for "chocolate, heavy body, no sourness"`);
  // F: chocolate by 3 of 3 (dark and milk chocolate are chocolate), heavy body by 2, sour by 1 of 3: 8 of 9 wishes.
  await house.as('noor').say('F: dark chocolate, heavy body', table.ts);
  await house.as('teo').say('F: milk chocolate, full bodied', table.ts);
  await house.as('mika').say('F: chocolate, sour', table.ts);
  // E: chocolate by nobody, heavy body by 1, sour by nobody of 2.
  await house.as('noor').say('E: strawberry', table.ts);
  await house.as('teo').say('E: strawberry, full body', table.ts);
  for (const who of ['noor', 'teo', 'mika', 'sol', 'wren', 'jun', 'ines'])
    await house.as(who).say('E > D > F', table.ts);
  const ines = house.as('ines');
  await ines.command('/spoon digest T1');
  const nearest =
    'Nearest to the brief “chocolate, heavy body, no sourness”: *F*, chocolate 3 of 3, heavy body 2 of 3, no sourness 2 of 3.';
  expect(formWords(await ines.form())).toContain(nearest);
  await ines.submit({ batch: '12 kg' });
  const digest = wordsOf(await card(house, 'Digest T1'));
  expect(digest).toContain(nearest);
  expect(digest).toContain('Clear: E (2:1:1) wins');
  // The numbers behind it hold every ratio: F (3/3 + 2/3 + 2/3) / 3 = 78 %, E (0 + 1/2 + 2/2) / 3 = 50 %.
  await house.as('teo').tap(await card(house, 'Digest T1'), 'digest.numbers');
  const numbers = formWords(await house.as('teo').form());
  expect(numbers).toContain('• F 78 %: chocolate 3 of 3, heavy body 2 of 3, no sourness 2 of 3');
  expect(numbers).toContain('• E 50 %: chocolate 0 of 2, heavy body 1 of 2, no sourness 2 of 2');
  expect(numbers).toContain('• D: nobody noted it');
});

test('words of a brief that are not understood are said, and a brief of nothing else asks for others', async () => {
  house = await startStory();
  const table = await openTable(house, `${BOOKING} for "less bitter, something for the hotel"`);
  await house.as('noor').say('D: bitter. E: strawberry', table.ts);
  await house.as('noor').say('E > D', table.ts);
  await house.as('ines').command('/spoon digest T1 12 kg');
  const digest = wordsOf(await card(house, 'Digest T1'));
  expect(digest).toContain('*E*, less bitter 1 of 1');
  expect(digest).toContain('I did not understand “something for the hotel” of it');
});

test('two ratios that meet the brief alike are both named', async () => {
  house = await startStory();
  const table = await openTable(house, `${BOOKING} for "lemon"`);
  await house.as('noor').say('D: lemon. E: lemon. F: mint', table.ts);
  await house.as('ines').command('/spoon digest T1 12 kg');
  expect(wordsOf(await card(house, 'Digest T1'))).toContain(
    '*D*, lemon 1 of 1; level with it *E*, lemon 1 of 1',
  );
});

test('without a brief nothing is said of one', async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.as('noor').say('E > D > F', table.ts);
  await house.as('ines').command('/spoon digest T1 12 kg');
  expect(wordsOf(await card(house, 'Digest T1'))).not.toContain('brief');
  await house.as('teo').tap(await card(house, 'Digest T1'), 'digest.numbers');
  expect(formWords(await house.as('teo').form())).not.toContain('brief');
});

function formWords(view: unknown): string {
  return JSON.stringify(view).replaceAll('\u2060', '');
}
