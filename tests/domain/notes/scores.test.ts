import { describe, expect, test } from 'vitest';
import { readNote } from '../../../src/domain/notes/read-note.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { readAtTable } from './fixture-notes.js';

const CUPS = ['A', 'B', 'C', 'D', 'E', 'F'].map((label) => ({ label }));
const read = (text: string) =>
  readNote(text, { cups: CUPS, homeCup: null, blind: false }, SHIPPED_VOCABULARY);

// The nine-point hedonic scale runs from 1, dislike extremely, over 5, neither like nor dislike, to 9, like
// extremely (Peryam and Pilgrim, 1957).
describe('liking', () => {
  test.each([
    ['C 8/9', { C: 8 }],
    ['C: 7/9, D: 5/9', { C: 7, D: 5 }],
    ['liking: C 8 D 6', { C: 8, D: 6 }],
    ['I’d give C a 7', { C: 7 }],
    ['D 10/10', { D: 9 }],
    ['D 1/5', { D: 1 }],
    ['D 3/5', { D: 5 }],
    ['C: like extremely', { C: 9 }],
    ['C: neither like nor dislike', { C: 5 }],
    ['C: dislike very much', { C: 2 }],
  ])('"%s" is read', (text, liking) => {
    expect(readAtTable(text).liking).toEqual(liking);
  });

  test('a score beside an attribute is its intensity, not a liking', () => {
    const reading = readAtTable('C: acidity 4/5, lemon');
    expect(reading.liking).toEqual({});
    expect(reading.mentions[0]).toMatchObject({ attribute: 'acidity', degree: 'strong', intensity: 12 });
  });

  test.each(['50/30/20 is lemony', 'C at 94 degrees', 'poured 150 g', 'back in 5'])(
    '"%s" likes nothing',
    (text) => {
      expect(readAtTable(text).liking).toEqual({});
    },
  );
});

describe('scores behind the cups', () => {
  test.each([
    ['D 7, E 8, F 5', { D: 7, E: 8, F: 5 }],
    ['D: 7\nE: 8', { D: 7, E: 8 }],
    ['A 1/9, B 5/9', { A: 1, B: 5 }],
    ['B 5/9, A 1/9', { A: 1, B: 5 }],
    ['E 8/9 D 7/9 A 5/9', { E: 8, D: 7, A: 5 }],
  ])('"%s" is read as liking', (text, liking) => {
    expect(read(text).liking).toEqual(liking);
  });

  test.each(['D 1, E 2, F 3', 'D 50, E 30, F 20', 'D 7', 'D 2 cups, E 3 cups', 'a 7/10 for me'])(
    '"%s" says nothing of liking',
    (text) => {
      expect(read(text).liking).toEqual({});
    },
  );
});
