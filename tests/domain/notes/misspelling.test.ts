import { describe, expect, test } from 'vitest';
import { COMMON_WORDS } from '../../../src/domain/notes/common-words.js';
import { editDistance } from '../../../src/domain/notes/edit-distance.js';
import { findAttribute, SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { readOne } from './fixture-notes.js';

describe('the distance between two words', () => {
  // "kitten" and "sitting": the standard worked example of the Levenshtein distance (3). "ca" and "abc":
  // the standard example that tells optimal string alignment (3) from the unrestricted distance (2).
  test.each([
    ['kitten', 'sitting', 3],
    ['ca', 'abc', 3],
    ['cirtus', 'citrus', 1],
    ['lemon', 'lemon', 0],
    ['', 'tea', 3],
  ])('from "%s" to "%s" is %i', (a, b, edits) => {
    expect(editDistance(a, b, 9)).toBe(edits);
    expect(editDistance(b, a, 9)).toBe(edits);
  });

  test('stops counting beyond the limit', () => {
    expect(editDistance('lemon', 'chocolate', 2)).toBe(3);
    expect(editDistance('abcdef', 'uvwxyz', 2)).toBe(3);
  });
});

describe('misspelt words', () => {
  test.each([
    ['cirtus', 'citrus fruit'],
    ['caramal', 'caramel'],
    ['vanila', 'vanilla'],
    ['strawbery', 'strawberry'],
    ['tobbaco', 'tobacco'],
    ['chamomille', 'chamomile'],
    ['lavendar', 'lavender'],
    ['grapefriut', 'grapefruit'],
    ['astringant', 'mouth-drying'],
    ['smoooooth', 'smooth'],
  ])('%s is read as %s', (word, attribute) => {
    expect(readOne(word).mentions.map((mention) => mention.attribute)).toEqual([attribute]);
  });

  test.each([
    'limp',
    'lemo',
    'sweat',
    'heavenly',
    'pouch',
    'beach',
    'manager',
    'spine',
    'flower pot money',
    'almighty',
    'coloured',
  ])('%s is never pulled onto a word of taste', (word) => {
    const attributes = readOne(word).mentions.map((mention) => mention.attribute);
    expect(attributes.filter((attribute) => attribute !== 'floral')).toEqual([]);
  });

  test('no common English word is taken for a misspelling, nor for a form that it is not', () => {
    const regular = /(?:s|er|est|ish|ness)$/;
    const misread = [...COMMON_WORDS].filter(
      (word) => findAttribute(SHIPPED_VOCABULARY, word) !== null && !regular.test(word),
    );
    expect(misread).toEqual([]);
    for (const word of [
      'brother',
      'apply',
      'applies',
      'crisis',
      'matches',
      'tired',
      'dated',
      'planted',
      'liter',
      'teaches',
    ]) {
      expect(findAttribute(SHIPPED_VOCABULARY, word), word).toBeNull();
    }
  });
});
