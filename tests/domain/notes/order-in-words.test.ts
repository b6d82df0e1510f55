import { expect, test } from 'vitest';
import { readNote } from '../../../src/domain/notes/read-note.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';

const CUPS = ['A', 'B', 'C', 'D', 'E', 'F'].map((label) => ({ label }));
const read = (text: string, homeCup: string | null = null) =>
  readNote(text, { cups: CUPS, homeCup, blind: false }, SHIPPED_VOCABULARY);

test.each([
  'best is E, then D, then F',
  'my favourite was E then D then F',
  'E first, then D, then F',
  'E beats D, D beats F',
  'E > D, D > F',
])('“%s” is one order of three', (text) => {
  expect(read(text).order).toEqual([['E'], ['D'], ['F']]);
});

test('an order of tasting is no order of liking', () => {
  const reading = read('I tasted D then E, both sour');
  expect(reading.order).toBeNull();
  expect(reading.mentions.map(({ cup, attribute }) => [cup, attribute])).toEqual([
    ['D', 'sour'],
    ['E', 'sour'],
  ]);
});

test('where a flavour sits in the mouth is tasting, not talk of the room', () => {
  expect(
    read('strawberry up front, chocolate behind', 'E').mentions.map(({ attribute }) => attribute),
  ).toEqual(['strawberry', 'chocolate']);
});
