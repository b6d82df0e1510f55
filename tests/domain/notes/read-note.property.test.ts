import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readNote } from '../../../src/domain/notes/read-note.js';
import type { Reading } from '../../../src/domain/notes/reading.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { CUPS, labelledNotes, readAtTable, readOne } from './fixture-notes.js';

const WORDS = labelledNotes().flatMap(({ text }) => text.split(/(\s+)/));
const ODD = [
  'C:',
  'D >',
  '<@U1|',
  '&amp;',
  '~',
  '```',
  ':lemon:',
  '(?)',
  '\u00a0',
  '\u200d',
  '🍋',
  'é',
  'ﬁg',
  'İ',
  'ß',
  'Σ',
  '4/5',
  '\ud83c',
];

/** Text as noisy as a phone sends it: words of notes, markup, any characters at all. */
const anyText = fc
  .array(
    fc.oneof(fc.constantFrom(...WORDS), fc.constantFrom(...ODD), fc.string({ unit: 'binary', maxLength: 6 })),
    { maxLength: 25 },
  )
  .map((parts) => parts.join(' '));

const noteText = fc
  .array(fc.constantFrom(...WORDS, ...ODD.slice(0, 14)), { maxLength: 25 })
  .map((parts) => parts.join(' '));

/** A reading without its text and offsets. */
function said({ mentions, order, worst, liking, needsCup }: Reading): object {
  return { mentions: mentions.map(({ span: _, ...rest }) => rest), order, worst, liking, needsCup };
}

describe('any text at all', () => {
  test('is read without an error, and every span lies inside it', () => {
    fc.assert(
      fc.property(anyText, fc.constantFrom(null, 'A', 'D'), fc.boolean(), (text, homeCup, blind) => {
        const reading = readNote(text, { cups: CUPS, homeCup, blind }, SHIPPED_VOCABULARY);
        expect(reading.text).toBe(text);
        for (const { span } of [...reading.mentions, ...reading.unplaced]) {
          expect(span[0]).toBeGreaterThanOrEqual(0);
          expect(span[1]).toBeGreaterThan(span[0]);
          expect(span[1]).toBeLessThanOrEqual(text.length);
        }
      }),
      { numRuns: 400 },
    );
  });

  test('names only attributes of the vocabulary, each once per cup and polarity, only cups of the table', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const { mentions, order, liking } = readAtTable(text);
        const keys = mentions.map(({ cup, attribute, polarity }) => `${cup}/${attribute}/${polarity}`);
        expect(new Set(keys).size).toBe(keys.length);
        for (const { attribute } of mentions) expect(SHIPPED_VOCABULARY.attributes.has(attribute)).toBe(true);
        const labels = [
          ...mentions.flatMap(({ cup }) => cup ?? []),
          ...(order ?? []).flat(),
          ...Object.keys(liking),
        ];
        for (const label of labels) expect('ABCDE').toContain(label);
        for (const value of Object.values(liking)) {
          expect(value).toBeGreaterThanOrEqual(1);
          expect(value).toBeLessThanOrEqual(9);
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('a reading is the same', () => {
  test('in capitals and in small letters', () => {
    fc.assert(
      fc.property(noteText, (text) => {
        const reading = said(readAtTable(text));
        expect(said(readAtTable(text.toUpperCase()))).toEqual(reading);
        expect(said(readAtTable(text.toLowerCase()))).toEqual(reading);
      }),
      { numRuns: 300 },
    );
  });

  test('with space around it, spans moved by as much', () => {
    fc.assert(
      fc.property(noteText, fc.integer({ min: 0, max: 5 }), (text, spaces) => {
        const reading = readOne(text);
        const moved = readOne(`${' '.repeat(spaces)}${text}  `);
        expect(said(moved)).toEqual(said(reading));
        expect(moved.mentions.map(({ span }) => span[0] - spaces)).toEqual(
          reading.mentions.map(({ span }) => span[0]),
        );
      }),
      { numRuns: 200 },
    );
  });

  test.each(['NFC', 'NFD', 'NFKC', 'NFKD'])('in Unicode normal form %s', (form) => {
    fc.assert(
      fc.property(fc.oneof(noteText, anyText), (text) => {
        expect(said(readAtTable(text.normalize(form)))).toEqual(said(readAtTable(text)));
      }),
      { numRuns: 200 },
    );
  });

  test('each time it is read', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(readAtTable(text)).toEqual(readAtTable(text));
      }),
      { numRuns: 100 },
    );
  });
});

describe('long and hostile input', () => {
  test.each([
    ['one endless word', 'a'.repeat(100_000)],
    ['openings that never close', '<@'.repeat(50_000)],
    ['denials of nothing', 'no '.repeat(33_000)],
    ['question marks', '?'.repeat(100_000)],
    ['an endless list', 'lemon,'.repeat(16_000)],
    ['an endless order', 'D>'.repeat(50_000)],
  ])('%s is read to its end', (_, text) => {
    const reading = readAtTable(text);
    expect(reading.mentions.length).toBeLessThanOrEqual(1);
    expect(reading.text).toHaveLength(text.length);
  });

  test('other scripts and languages yield nothing', () => {
    for (const text of [
      'レモンとお茶',
      'лимон и мёд',
      'ليمون وشاي',
      '檸檬，紅茶',
      'λεμόνι και μέλι',
      '레몬과 차',
    ]) {
      expect(readOne(text).mentions).toEqual([]);
      expect(readOne(text).unplaced).toEqual([]);
    }
  });
});
