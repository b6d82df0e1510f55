import { describe, expect, test } from 'vitest';
import { latestWords } from '../../../src/domain/tally/latest-words.js';
import { tallyTable } from '../../../src/domain/tally/tally.js';
import { meetBrief } from '../../../src/domain/verdict/brief.js';
import { note } from '../tally/notes.js';
import { SMALL_TREE } from '../tally/small-tree.js';

const BRIEF = [
  { attribute: 'chocolate', want: 'present' },
  { attribute: 'heavy body', want: 'present' },
  { attribute: 'sourness', want: 'absent' },
] as const;

describe('a brief in words: chocolate, heavy body, no sourness', () => {
  const notes = [
    note('noor', 1, 'D', 'dark chocolate', 'heavy body'),
    note('teo', 1, 'D', 'chocolate', 'no sourness'),
    note('sol', 1, 'D', 'lemon', 'sourness'),
    note('noor', 1, 'E', 'lemon'),
    note('teo', 1, 'E', 'sourness'),
  ];
  const { cups } = tallyTable({ cups: ['D', 'E', 'F'], words: latestWords(notes), tree: SMALL_TREE });
  const view = meetBrief(cups, BRIEF);

  test('a subfamily is met by the words within it, and an unwanted word by those who do not find it', () => {
    const [first] = view.ratios;
    expect(
      first?.lines.map(({ attribute, tasters, noted, denied }) => [attribute, tasters, noted, denied]),
    ).toEqual([
      ['chocolate', 2, 3, 0],
      ['heavy body', 1, 3, 0],
      ['sourness', 2, 3, 1],
    ]);
  });

  test('the ratio that meets it best stands first, one that nobody noted last and without a figure', () => {
    expect(view.ratios.map(({ id }) => id)).toEqual(['D', 'E', 'F']);
    expect(view.ratios[0]?.met).toBeCloseTo((2 / 3 + 1 / 3 + 2 / 3) / 3, 12);
    expect(view.ratios[1]?.met).toBeCloseTo((0 + 0 + 1 / 2) / 3, 12);
    expect(view.ratios[2]?.met).toBeNull();
    expect(view.best).toEqual(['D']);
  });

  test('an empty brief claims nothing', () => {
    expect(meetBrief(cups, []).best).toEqual([]);
  });
});
