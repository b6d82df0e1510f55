import { describe, expect, test } from 'vitest';
import { readAtTable } from './fixture-notes.js';

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

// The nine-point hedonic scale runs from 1, dislike extremely, over 5, neither like nor dislike, to 9, like
// extremely (Peryam and Pilgrim, 1957).
describe('liking', () => {
  test.each([
    ['C 8/9', { C: 8 }],
    ['C: 7/9, D: 5/9', { C: 7, D: 5 }],
    ['liking: C 8 D 6', { C: 8, D: 6 }],
    ['I’d give C a 7', { C: 7 }],
    ['D 10/10', { D: 9 }],
    ['D 1/5', { D: 1 }],
    ['D 3/5', { D: 5 }],
    ['C: like extremely', { C: 9 }],
    ['C: neither like nor dislike', { C: 5 }],
    ['C: dislike very much', { C: 2 }],
  ])('"%s" is read', (text, liking) => {
    expect(readAtTable(text).liking).toEqual(liking);
  });

  test('a score beside an attribute is its intensity, not a liking', () => {
    const reading = readAtTable('C: acidity 4/5, lemon');
    expect(reading.liking).toEqual({});
    expect(reading.mentions[0]).toMatchObject({ attribute: 'acidity', degree: 'strong', intensity: 12 });
  });

  test.each(['50/30/20 is lemony', 'C at 94 degrees', 'poured 150 g', 'back in 5'])(
    '"%s" likes nothing',
    (text) => {
      expect(readAtTable(text).liking).toEqual({});
    },
  );
});
