import { afterEach, beforeEach, expect, test } from 'vitest';
import { forgetHouseWord, listHouseWords, saveHouseWord } from '../../src/store/house.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';

const AT = new Date('2026-11-25T09:00:00Z');

let open: OpenDatabase;
beforeEach(async () => {
  open = await openDatabase(':memory:');
});
afterEach(() => open.close());

function save(words: string, attribute: string, workspace = 'T1', by = 'U0INES') {
  return saveHouseWord(open.db, { workspace, words, attribute, by, at: AT });
}

test('words are listed in order, each house its own', async () => {
  await save('tarred plank', 'smoky');
  await save('dock rope', 'woody');
  await save('dock rope', 'earthy', 'T2');
  expect(await listHouseWords(open.db, 'T1')).toEqual([
    { words: 'dock rope', attribute: 'woody', by: 'U0INES', at: AT },
    { words: 'tarred plank', attribute: 'smoky', by: 'U0INES', at: AT },
  ]);
});

test('saved again, a word has its new meaning and its new teacher', async () => {
  await save('dock rope', 'woody');
  await save('dock rope', 'smoky', 'T1', 'U0BRAM');
  expect(await listHouseWords(open.db, 'T1')).toMatchObject([{ attribute: 'smoky', by: 'U0BRAM' }]);
});

test('a word is forgotten once, and only in its own house', async () => {
  await save('dock rope', 'woody');
  expect(await forgetHouseWord(open.db, 'T2', 'dock rope')).toBe(false);
  expect(await forgetHouseWord(open.db, 'T1', 'dock rope')).toBe(true);
  expect(await forgetHouseWord(open.db, 'T1', 'dock rope')).toBe(false);
});
