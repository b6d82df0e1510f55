import { describe, expect, test } from 'vitest';
import { findAttribute, SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { COMMON_WORDS } from '../../../src/domain/notes/word-forms.js';
import { readOne } from './fixture-notes.js';

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
