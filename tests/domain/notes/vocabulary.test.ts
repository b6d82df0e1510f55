import { describe, expect, test } from 'vitest';
import { readNote } from '../../../src/domain/notes/read-note.js';
import {
  describeAttribute,
  extendVocabulary,
  findAttribute,
  SHIPPED_VOCABULARY,
} from '../../../src/domain/notes/vocabulary.js';
import { shippedVocabulary, vocabularyFileSchema } from '../../../src/domain/notes/vocabulary-file.js';

const ENTRY = {
  family: 'fruity',
  subfamily: 'citrus fruit',
  kind: 'aroma-flavour',
  source: ['common practice'],
};
const ONE_CUP = { cups: [], homeCup: null, blind: false };

function problems(attributes: readonly object[]): readonly string[] {
  const result = vocabularyFileSchema.safeParse({ attributes });
  return result.success ? [] : result.error.issues.map(({ message }) => message);
}

describe('the vocabulary file', () => {
  test('as shipped keeps its own rules and names a family and a source for every attribute', () => {
    const { attributes } = shippedVocabulary();
    expect(attributes).toHaveLength(170);
    for (const { family, source } of attributes) {
      expect(family).not.toBe('');
      expect(source.length).toBeGreaterThan(0);
    }
  });

  test('may not claim a word for two attributes', () => {
    const attributes = [
      { ...ENTRY, name: 'lemon', words: ['zest'] },
      { ...ENTRY, name: 'lime', words: ['zest'] },
    ];
    expect(problems(attributes)).toEqual(['"zest" is claimed by "lemon" and by "lime"']);
  });

  test('may not name an attribute twice, nor leave out its family', () => {
    expect(
      problems([
        { ...ENTRY, name: 'lemon', words: [] },
        { ...ENTRY, name: 'lemon', words: [] },
      ]),
    ).toHaveLength(1);
    expect(problems([{ ...ENTRY, family: ' ', name: 'lemon', words: [] }])).toHaveLength(1);
  });

  test('may not put a family below itself, directly or in a circle', () => {
    expect(
      problems([{ ...ENTRY, family: 'a', subfamily: 'a', name: 'lemon', words: [] }]).length,
    ).toBeGreaterThan(0);
    const circle = [
      { ...ENTRY, family: 'a', subfamily: 'b', name: 'lemon', words: [] },
      { ...ENTRY, family: 'b', subfamily: 'a', name: 'lime', words: [] },
    ];
    expect(problems(circle)).toContain('"b" is above itself');
  });
});

describe('finding what words mean', () => {
  test.each([
    ['lemon', 'lemon'],
    ['Lemons', 'lemon'],
    ['tea-like', 'tea-like body'],
    ['blueberries', 'blueberry'],
    ['dark chocolate', 'dark chocolate'],
    ['darkchocolate', 'dark chocolate'],
    ['choclate', 'chocolate'],
    ['ashier', 'ashy'],
    ['kettle', null],
    ['lemon and lime', null],
  ])('%s means %s', (words, attribute) => {
    expect(findAttribute(SHIPPED_VOCABULARY, words)).toBe(attribute);
  });

  test('an attribute can be described, with what a house taught', () => {
    const { vocabulary } = extendVocabulary(SHIPPED_VOCABULARY, [
      { words: 'sugarcane press', attribute: 'brown sugar' },
    ]);
    expect(describeAttribute(vocabulary, 'brown sugar')).toMatchObject({
      entry: { family: 'sweet' },
      taught: ['sugarcane press'],
    });
    expect(describeAttribute(vocabulary, 'kettle')).toBeNull();
  });
});

describe('words taught by a house', () => {
  test('act at once and leave the shipped vocabulary as it was', () => {
    const taught = [{ words: 'hojuela syrup', attribute: 'molasses' }];
    const { vocabulary, conflicts } = extendVocabulary(SHIPPED_VOCABULARY, taught);
    expect(conflicts).toEqual([]);
    expect(readNote('Hojuela syrup, lemon', ONE_CUP, vocabulary).mentions.map((m) => m.attribute)).toEqual([
      'molasses',
      'lemon',
    ]);
    expect(findAttribute(SHIPPED_VOCABULARY, 'hojuela syrup')).toBeNull();
    expect(vocabulary.houseWords).toEqual(taught);
  });

  test('never take over what a word means already: the conflict is shown', () => {
    const { vocabulary, conflicts } = extendVocabulary(SHIPPED_VOCABULARY, [
      { words: 'Lemons', attribute: 'lime' },
    ]);
    expect(conflicts).toEqual([
      { words: 'Lemons', attribute: 'lime', reason: 'already means', means: 'lemon' },
    ]);
    expect(findAttribute(vocabulary, 'lemons')).toBe('lemon');
    expect(vocabulary.houseWords).toEqual([]);
  });

  test('need an attribute that exists and at least one word', () => {
    const { conflicts } = extendVocabulary(SHIPPED_VOCABULARY, [
      { words: 'hojuela', attribute: 'unheard of' },
      { words: ' , ', attribute: 'lemon' },
    ]);
    expect(conflicts.map(({ reason }) => reason)).toEqual(['unknown attribute', 'no words']);
  });

  test('of one house are unknown to another', () => {
    const one = extendVocabulary(SHIPPED_VOCABULARY, [{ words: 'brisa', attribute: 'mint' }]).vocabulary;
    const other = extendVocabulary(SHIPPED_VOCABULARY, [{ words: 'brisa', attribute: 'floral' }]).vocabulary;
    expect(findAttribute(one, 'brisa')).toBe('mint');
    expect(findAttribute(other, 'brisa')).toBe('floral');
  });
});
