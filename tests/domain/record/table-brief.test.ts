import { expect, test } from 'vitest';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { readBrief, tableBrief } from '../../../src/domain/record/table-brief.js';
import { latestWords } from '../../../src/domain/tally/latest-words.js';
import { note } from '../tally/notes.js';

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
