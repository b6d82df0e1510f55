import { describe, expect, test } from 'vitest';
import { correctReading, isWhollyUnderstood, understoodSentence } from '../../../src/domain/notes/reading.js';
import { claims, readAtTable, readOne } from './fixture-notes.js';

describe('what a taster corrects', () => {
  const text = 'C: lemon, dry, library';
  const reading = readAtTable(text);

  test('drops a mention', () => {
    expect(claims(correctReading(reading, [{ span: [3, 8], drop: true }]))).toEqual(['C dry aftertaste']);
  });

  test('gives a mention the attribute that was meant, and no attribute drops it', () => {
    expect(claims(correctReading(reading, [{ span: [10, 13], attribute: 'mouth-drying' }]))).toEqual([
      'C lemon',
      'C mouth-drying',
    ]);
    expect(claims(correctReading(reading, [{ span: [10, 13], attribute: null }]))).toEqual(['C lemon']);
  });

  test('places words that were unplaced, with the cup they stand by', () => {
    expect(reading.unplaced).toEqual([{ words: 'library', span: [15, 22] }]);
    const corrected = correctReading(reading, [{ span: [15, 22], attribute: 'musty' }]);
    expect(claims(corrected)).toEqual(['C lemon', 'C dry aftertaste', 'C musty']);
    expect(corrected.unplaced).toEqual([]);
  });

  test('holds when the note is read again, twice over, and does nothing elsewhere', () => {
    const corrections = [{ span: [3, 8], attribute: 'lime' }] as const;
    const once = correctReading(readAtTable(text), corrections);
    expect(correctReading(readAtTable(text), corrections)).toEqual(once);
    expect(correctReading(reading, [{ span: [0, 1], drop: true }])).toEqual(reading);
  });

  test('never claims one attribute twice for a cup', () => {
    const twice = correctReading(readAtTable('C: lemon, lime'), [{ span: [10, 14], attribute: 'lemon' }]);
    expect(claims(twice)).toEqual(['C lemon']);
  });
});

describe('what a taster is shown', () => {
  test('is said cup by cup, with degree, doubt and denial', () => {
    expect(understoodSentence(readAtTable('C: a hint of lemon, black tea, not sour'))).toBe(
      'I read: C — lemon (slight), black tea; not sour',
    );
    expect(understoodSentence(readOne('maybe plum'))).toBe('I read: plum (unsure)');
    expect(understoodSentence(readAtTable('D > E. D: plum, E: sweeter than D'))).toBe(
      'I read: D — plum · E — sweet (beside another cup) · order D > E',
    );
    expect(understoodSentence(readAtTable('best D, worst C. D 8/9'))).toBe(
      'I read: best D · worst C · D liked 8 of 9',
    );
    expect(understoodSentence(readOne('be right back'))).toBeNull();
  });

  test('tells a note understood whole from one with words left over, and from talk', () => {
    expect(isWhollyUnderstood(readOne('lemon, tea'))).toBe(true);
    expect(isWhollyUnderstood(readOne('lemon, library'))).toBe(false);
    expect(isWhollyUnderstood(readOne('be right back'))).toBe(false);
    expect(isWhollyUnderstood(readAtTable('lemon, tea'))).toBe(false);
    expect(isWhollyUnderstood(readAtTable('D > E'))).toBe(true);
  });

  test('words known to fit no attribute stay unplaced', () => {
    expect(readOne('bland, lemon').unplaced.map(({ words }) => words)).toEqual(['bland']);
    expect(readOne('notes of library').unplaced.map(({ words }) => words)).toEqual(['library']);
    expect(readOne('lemon, delicious, my favourite').unplaced).toEqual([]);
  });

  test('every mention keeps the words it came from', () => {
    const text = '“Choclate” &amp; a hint of lemony tea';
    expect(readOne(text).mentions.map(({ span }) => text.slice(...span))).toEqual([
      'Choclate',
      'lemony',
      'tea',
    ]);
  });
});
