import { afterEach, expect, test } from 'vitest';
import { importNotes } from '../../src/commands/notes/note-written.js';
import type { StoryHouse } from './start-house.js';
import { card, one, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

test('notes kept on paper are brought into a table and count like any other', async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.as('noor').say('C: strawberry', table.ts);
  const paper = [
    { text: 'C: strawberry, winey', homeCup: null },
    { text: 'lemon', homeCup: 'B' },
    { text: 'a hint of mint', homeCup: null },
  ];
  const { deps, workspace } = house.bot;
  expect(await importNotes(deps, workspace, 1, 'a guest', paper)).toEqual({ kept: 3, withoutCup: 1 });
  await house.as('ines').tap(await card(house, 'T1 ·'), 'tally.show');
  const tally = wordsOf(one(await house.as('ines').thread(table.ts), 'Tally T1'));
  expect(tally).toContain('strawberry 2 of 2');
  expect(tally).toContain('lemon 1 of 1');
});

test('paper for a tasting that does not exist is refused by name', async () => {
  house = await startStory();
  const { deps, workspace } = house.bot;
  await expect(importNotes(deps, workspace, 9, 'a guest', [])).rejects.toThrow('There is no tasting T9.');
});
