import { describe, expect, test } from 'vitest';
import { readNote } from '../../../src/domain/notes/read-note.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { readAtTable } from './fixture-notes.js';

const CUPS = ['A', 'B', 'C', 'D', 'E', 'F'].map((label) => ({ label }));
const read = (text: string) =>
  readNote(text, { cups: CUPS, homeCup: null, blind: false }, SHIPPED_VOCABULARY);

describe('the order of cups', () => {
  test.each([
    ['D > E > C', [['D'], ['E'], ['C']]],
    ['D &gt; E = A', [['D'], ['E', 'A']]],
    ['d>e>c', [['D'], ['E'], ['C']]],
    ['C < D < E', [['E'], ['D'], ['C']]],
    ['D -> E -> C', [['D'], ['E'], ['C']]],
    ['D = E', [['D', 'E']]],
    ['best: D', [['D']]],
    ['D was my favourite', [['D']]],
    ['My favourite is D, second best E', [['D'], ['E']]],
    ['favourite D and E', [['D', 'E']]],
    ['1. D 2. E 3. C', [['D'], ['E'], ['C']]],
    ['1st D, 2nd E', [['D'], ['E']]],
    ['1) D\n2) E', [['D'], ['E']]],
    ['ranking: D, E, C', [['D'], ['E'], ['C']]],
    ['worst to best: C E D', [['D'], ['E'], ['C']]],
    ['D over E', [['D'], ['E']]],
    ['I prefer D over E', [['D'], ['E']]],
    ['D is better than E', [['D'], ['E']]],
    ['E is worse than D', [['D'], ['E']]],
    ['D then E then C', [['D'], ['E'], ['C']]],
    ['D beats E', [['D'], ['E']]],
    ['D wins', [['D']]],
  ])('"%s" is read', (text, order) => {
    expect(readAtTable(text).order).toEqual(order);
  });

  test.each([
    'best body: D',
    'D is not my favourite',
    '1. C lemon 2. D cocoa',
    'C then D tasted sour',
    'lemon > lime',
    'the best of days',
  ])('"%s" orders nothing', (text) => {
    expect(readAtTable(text).order).toBeNull();
  });

  test('codes and names order cups too', () => {
    expect(readAtTable('195 > 846', null, true).order).toEqual([['D'], ['E']]);
    expect(readAtTable('Chirinos > Nubosa').order).toEqual([['A'], ['C']]);
  });

  test('the worst cups are told apart', () => {
    expect(readAtTable('best D, worst C')).toMatchObject({ order: [['D']], worst: ['C'] });
    expect(readAtTable('least favourite: A').worst).toEqual(['A']);
  });

  test('in a cup’s own thread "my favourite" is that cup', () => {
    expect(readAtTable('my favourite of the table', 'D').order).toEqual([['D']]);
    expect(readAtTable('not my favourite', 'D').order).toBeNull();
  });

  test('an order leaves the words of taste with their cup', () => {
    const reading = readAtTable('D > E. D: lemon, E: plum');
    expect(reading.mentions.map(({ cup, attribute }) => `${cup} ${attribute}`)).toEqual([
      'D lemon',
      'E plum',
    ]);
  });
});

test.each([
  'best is E, then D, then F',
  'my favourite was E then D then F',
  'E first, then D, then F',
  'E beats D, D beats F',
  'E > D, D > F',
])('“%s” is one order of three', (text) => {
  expect(read(text).order).toEqual([['E'], ['D'], ['F']]);
});

test('an order of tasting is no order of liking', () => {
  const reading = read('I tasted D then E, both sour');
  expect(reading.order).toBeNull();
  expect(reading.mentions.map(({ cup, attribute }) => [cup, attribute])).toEqual([
    ['D', 'sour'],
    ['E', 'sour'],
  ]);
});
