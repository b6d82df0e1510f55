import { describe, expect, test } from 'vitest';
import { editDistance } from '../../../src/domain/measure/nearest-word.js';

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
