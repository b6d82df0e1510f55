import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { BOOKING, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

async function pour(ratio: string, person = 'ines'): Promise<string> {
  const { response } = await house.as(person).command(`/spoon pour T1 ${ratio}`);
  if (!response) throw new Error('nothing was answered');
  return wordsOf(response);
}

test('a pour says what to spoon from which cup, what is left after it, and how far it can be trusted', async () => {
  house = await startStory();
  await openTable(house, BOOKING);
  const said = await pour('3:2:1');
  // Six people, two spoonfuls of 5 mL each: 60 mL, two rounds of 3:2:1 (by hand).
  expect(said).toContain(
    'spoon together 6 spoonfuls of Chirinos (cup A), 4 spoonfuls of Kayanza Hill (cup B) and 2 spoonfuls of Nubosa Natural (cup C), 60 mL',
  );
  // A bowl lets a spoon have 207 − 2 × 11.4 − 30 = 154.2 mL; two bowls 308.4, less 18 spoonfuls of 5 mL that six
  // tasters take in three passes, 218.4; after 30, 20 and 10 mL: 188, 198 and 208 (by hand).
  expect(said).toContain(
    'Enough is left: about 188 mL of Chirinos, 198 mL of Kayanza Hill and 208 mL of Nubosa Natural',
  );
  expect(said).toContain('Recorded as scooped');
  expect(said).toMatch(/off by about \d+\.\d points/);
});

test('what earlier pours took is gone, and who has written is who drinks', async () => {
  house = await startStory();
  const table = await openTable(house, BOOKING);
  await pour('3:2:1');
  // The first took 30 mL of Chirinos; 1:1:2 takes 15 mL a round of 20, three rounds for 60 mL: 15 of it (by hand).
  expect(await pour('1:1:2')).toContain('about 173 mL of Chirinos');
  for (const person of ['noor', 'teo']) await house.as(person).say('A: chocolate', table.ts);
  // Two have written: 308.4 − 6 × 5 = 278.4, and pours are made for two, 50 mL: 3:2:1 twice takes 30, 1:1:2 three
  // times 15, and 2:3:1 twice 20: 213.4 (by hand).
  expect(await pour('2:3:1')).toContain('about 213 mL of Chirinos');
});

test('when the bowls run low it is said by how much, and the cup is added all the same', async () => {
  house = await startStory();
  await openTable(house, BOOKING);
  const said: string[] = [];
  for (const ratio of ['9:1:1', '9:2:1', '9:1:2', '8:1:1', '8:2:1', '7:2:1', '7:1:2'])
    said.push(await pour(ratio));
  expect(said[0]).toContain('Enough is left');
  expect(said.at(-1)).toMatch(/Too little of Chirinos is left, by about \d+ mL: brew one more bowl/);
  const cups = (await house.as('noor').messages()).filter(({ text }) => text.startsWith('Cup '));
  expect(cups).toHaveLength(13);
});

test('one coffee alone is no pour', async () => {
  house = await startStory();
  await openTable(house, BOOKING);
  expect(await pour('chirinos 100')).toContain('one coffee alone, which has its own cup already');
});

test('a blind table’s bowls are named by their codes, to the host alone', async () => {
  house = await startStory();
  await openTable(house, `${BOOKING} blind`);
  const said = await pour('3:2:1');
  expect(said).toMatch(/6 spoonfuls of Chirinos \(cup [1-9]\d\d\)/);
  await house.as('ines').command(`/spoon house steward <@${house.id('bram')}>`);
  const toSteward = await pour('1:1:1', 'bram');
  expect(toSteward).toContain('spoonfuls of Chirinos');
  expect(toSteward).not.toMatch(/Chirinos \(cup/);
});
