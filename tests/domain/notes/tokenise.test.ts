import { describe, expect, test } from 'vitest';
import { foldText, tokenise } from '../../../src/domain/notes/tokenise.js';
import { claims, readAtTable, readOne } from './fixture-notes.js';

describe('text as Slack sends it', () => {
  test.each([
    ['a link is nobody’s tasting words', 'lemon <https://fernhollow.example/cocoa|cocoa page>', ['lemon']],
    ['a person named is none either', '<@U024BE7LH> plum', ['plum']],
    ['struck words are withdrawn', '~lemon, tea~ plum', ['plum']],
    ['a lone tilde strikes nothing', '~ lemon, about ~4/5', ['lemon']],
    ['a quoted line is someone else’s', '&gt; lemon and tea\nplum', ['plum']],
    ['a full-width mark quotes as well', '\uff1e lemon and tea\nplum', ['plum']],
    ['fenced code is not read', '```lemon``` plum', ['plum']],
    ['bold and italics are read', '*lemon* and _plum_', ['lemon', 'plum']],
    ['an ampersand joins', 'lemon &amp; plum', ['lemon', 'plum']],
    ['shortcodes and emoji speak', ':lemon: 🫐', ['lemon', 'blueberry']],
    ['an emoji in two parts is one', '🍋‍🟩', ['lime']],
    ['a shortcode of talk is silent', ':wave: :+1:', []],
  ])('%s', (_, text, expected) => {
    expect(claims(readOne(text))).toEqual(expected);
  });

  test('a note in a cup’s thread without any cups of a table is on one cup', () => {
    expect(claims(readAtTable('lemon', 'B'))).toEqual(['B lemon']);
    expect(claims(readOne('lemon'))).toEqual(['lemon']);
  });
});

describe('folding', () => {
  test('drops accents, typographic quotes and invisible characters, and remembers where each letter stood', () => {
    const { text, at } = foldText('Crème\u200b “brûlée”');
    expect(text).toBe('creme "brulee"');
    expect(at?.[6]).toBe(7);
  });

  test('keeps the letter of a possessive apart, so that "C’s" names a cup', () => {
    expect(tokenise('C’s plum').map(({ text, start, end }) => [text, start, end])).toEqual([
      ['c', 0, 1],
      ['s', 2, 3],
      ['plum', 4, 8],
    ]);
  });

  test('marks what a hyphen ties', () => {
    expect(tokenise('full-bodied - tea').map(({ text, joined }) => [text, joined])).toEqual([
      ['full', false],
      ['bodied', true],
      ['-', false],
      ['tea', false],
    ]);
  });
});
