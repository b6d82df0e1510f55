import { describe, expect, test } from 'vitest';
import { readNote } from '../../../src/domain/notes/read-note.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';

const CUPS = ['A', 'B', 'C', 'D', 'E', 'F'].map((label) => ({ label }));
const read = (text: string) =>
  readNote(text, { cups: CUPS, homeCup: null, blind: false }, SHIPPED_VOCABULARY);

describe('places behind the cups', () => {
  test.each([
    'E best, D second, F third',
    'E first, D second, F third',
    'E 1st, D 2nd, F 3rd',
    'E was my favourite, D in second place and F third.',
    'F third, D second, E first',
  ])('"%s" is one order of three', (text) => {
    expect(read(text)).toMatchObject({ order: [['E'], ['D'], ['F']], worst: [] });
  });

  test.each([
    ['E was my favourite, F least', [['E']]],
    ['liked E most and F least', [['E']]],
    ['E best, D second, F last', [['E'], ['D']]],
    ['E was best, F was last', [['E']]],
    ['E and D first, F last', [['E', 'D']]],
  ])('"%s" puts F below all others', (text, order) => {
    expect(read(text)).toMatchObject({ order, worst: ['F'] });
  });

  test.each([
    'I tried E first, D second',
    'E second, D third',
    'E first sip sour, D second sip sweet',
    'E first, D first',
    'D third',
    'D was last to arrive',
    'poured E first, D second and F last',
  ])('"%s" orders nothing', (text) => {
    expect(read(text)).toMatchObject({ order: null, worst: [] });
  });

  test('"at least" puts nothing last', () => {
    expect(read('E was best, at least D has fruit').worst).toEqual([]);
    expect(read('E was my favourite, F least acidic').worst).toEqual([]);
  });
});

test('six cups may be numbered in words', () => {
  const text = 'first E, second D, third F, fourth C, fifth B, sixth: A';
  expect(read(text).order).toEqual([['E'], ['D'], ['F'], ['C'], ['B'], ['A']]);
});
