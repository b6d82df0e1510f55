import { describe, expect, test } from 'vitest';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { meetBrief, readBrief, tableBrief } from '../../../src/domain/result/table-brief.js';
import { latestWords } from '../../../src/domain/tally/counted.js';
import { tallyTable } from '../../../src/domain/tally/tally.js';
import { note } from '../tally/notes.js';
import { SMALL_TREE } from '../tally/small-tree.js';

test('a brief is read as wishes: what is denied, or asked for less, is not wanted', () => {
  const { lines } = readBrief('chocolate, heavy body, no sourness, not too bitter', SHIPPED_VOCABULARY);
  expect(lines).toEqual([
    { attribute: 'chocolate', want: 'present' },
    { attribute: 'full body', want: 'present' },
    { attribute: 'sour', want: 'absent' },
    { attribute: 'bitter', want: 'absent' },
  ]);
});

test('what names no flavour is handed back as it was written', () => {
  const { notUnderstood } = readBrief('lemon and something for the hotel; sweet', SHIPPED_VOCABULARY);
  expect(notUnderstood).toEqual(['something for the hotel']);
});

test('dark and milk chocolate meet a wish for chocolate, each taster once, but a dark wish wants dark', () => {
  const said = latestWords([
    note('noor', 1, 'D', 'dark chocolate', 'chocolate'),
    note('teo', 1, 'D', 'milk chocolate'),
    note('sol', 1, 'D', 'lemon'),
  ]);
  const met = (brief: string) => tableBrief(brief, ['D'], said, SHIPPED_VOCABULARY)?.view.ratios[0]?.lines[0];
  expect(met('chocolate')).toMatchObject({ tasters: 2, noted: 3 });
  expect(met('dark chocolate')).toMatchObject({ tasters: 1, noted: 3 });
  expect(met('no chocolate')).toMatchObject({ tasters: 1, noted: 3 });
});

test('no brief is no view', () => {
  expect(tableBrief(null, ['D'], new Map(), SHIPPED_VOCABULARY)).toBeNull();
  expect(tableBrief('  ', ['D'], new Map(), SHIPPED_VOCABULARY)).toBeNull();
});

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
    expect(first?.lines.map(({ attribute, tasters, noted }) => [attribute, tasters, noted])).toEqual([
      ['chocolate', 2, 3],
      ['heavy body', 1, 3],
      ['sourness', 2, 3],
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
