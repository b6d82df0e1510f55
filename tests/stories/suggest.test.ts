import { afterEach, expect, test } from 'vitest';
import type { Message } from '../../src/local/api-types.js';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

/**
 * Three tasters whose mean likings follow 1 × Chirinos + 5 × Kayanza Hill + 9 × Nubosa Natural: D 3.8, E 4, F 4.2
 * by the rule, 3.7, 4 and 4.3 by the table. F, 40/40/20, stands first; fewer parts of Chirinos promise more.
 */
const RATINGS = [
  ['noor', 'cup A 1/9, B 5/9, C 9/9, D 4/9, E 4/9, F 5/9'],
  ['teo', 'cup A 1/9, B 5/9, C 9/9, D 4/9, E 4/9, F 4/9'],
  ['mika', 'cup A 1/9, B 5/9, C 9/9, D 3/9, E 4/9, F 4/9'],
] as const;

test('while the table is open the host is offered the next ratio, and one tap pours it', async () => {
  house = await startStory();
  const table = await openTable(house);
  for (const [who, likings] of RATINGS) await house.as(who).say(likings, table.ts);
  await house.as('ines').tap(table, 'tally.show');
  const answer = await privately('ines', table);
  expect(wordsOf(answer)).toMatch(
    /\*[\d:/]+\* may be worth a cup: the likings of 3 tasters put it at \d\.\d of 9/,
  );
  const ratio = /Pour ([\d:/]+)/.exec(wordsOf(answer))?.[1] ?? 'no ratio';
  await house.as('ines').tap(answer, 'pour.ratio');
  expect(wordsOf(await card(house, `Cup G, ${ratio}. Reply`))).toContain(`Cup G* · ${ratio}`);
});

test('in the digest the same forecast is a booking, filled in with the blend, the ratio and the people', async () => {
  house = await startStory();
  const table = await openTable(house);
  for (const [who, likings] of RATINGS) await house.as(who).say(likings, table.ts);
  await house.as('ines').command('/spoon digest T1 12 kg');
  const digest = await card(house, 'Digest T1');
  const ratio = /Book ([\d:/]+)/.exec(wordsOf(digest))?.[1] ?? 'no ratio';
  await house.as('ines').tap(digest, 'suggest.book');
  const form = JSON.stringify(await house.as('ines').form());
  expect(form).toContain('Book a tasting');
  expect(form).toContain(`"initial_value":"${ratio}"`);
  expect(form).toContain(house.id('wren'));
});

test('with too few likings nothing is poured, and a close table says what would help', async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.as('noor').say('E 8/9, D 7/9, F 5/9', table.ts);
  await house.as('teo').say('D > E > F', table.ts);
  await house.as('ines').tap(table, 'tally.show');
  expect(wordsOf(await privately('ines', table))).not.toContain('worth a cup');
  await house.as('ines').command('/spoon digest T1 12 kg');
  expect(wordsOf(await card(house, 'Digest T1'))).toContain('With likings from 1 to 9 on a few more cups');
});

test('at a blind table the offer goes to the host and says nothing of what is behind a code', async () => {
  house = await startStory();
  const table = await openTable(house, `${BOOKING} blind`);
  const codes = (await house.as('noor').messages()).flatMap(
    ({ text }) => /^Cup (\d{3})\./.exec(text)?.[1] ?? [],
  );
  expect(codes).toHaveLength(6);
  const rated = codes.map((code, index) => `${code} ${index + 2}/9`).join(', ');
  for (const who of ['noor', 'teo', 'mika']) await house.as(who).say(rated, table.ts);
  await house.as('ines').tap(await card(house, 'T1 ·'), 'tally.show');
  const said = wordsOf(await privately('ines', table));
  expect(said).not.toMatch(/Chirinos|Kayanza|Nubosa/);
  for (const who of ['noor', 'teo'])
    expect((await house.as(who).thread(table.ts)).map(wordsOf).join()).not.toContain('worth a cup');
});

async function privately(who: string, table: Message): Promise<Message> {
  const said = [...(await house.as(who).messages()), ...(await house.as(who).thread(table.ts))];
  const found = said.filter(({ ephemeral, text }) => ephemeral && text.startsWith('The tally of')).at(-1);
  if (!found) throw new Error('the host was told nothing');
  return found;
}
