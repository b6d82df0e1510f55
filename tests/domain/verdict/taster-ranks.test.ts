import { describe, expect, test } from 'vitest';
import { tasterRanks } from '../../../src/domain/verdict/taster-ranks.js';
import { noted, placing } from './placings.js';

const CUPS = ['C', 'D', 'E'];

function ranksOf(...args: Parameters<typeof tasterRanks> extends [unknown, ...infer Rest] ? Rest : never) {
  return tasterRanks(CUPS, ...args)[0]?.ranks;
}

describe('one taster’s ranks of C, D and E', () => {
  test('a full order gives ranks 1, 2, 3', () => {
    expect(ranksOf([], [placing('noor', 'D > E > C')])).toEqual([3, 1, 2]);
  });

  test('tied cups share the mean of their ranks', () => {
    expect(ranksOf([], [placing('noor', 'D > E = C')])).toEqual([2.5, 1, 2.5]);
  });

  test('a partial order leaves the cup it does not name missing, even when it was noted', () => {
    expect(ranksOf([noted('noor', 'C', 'D', 'E')], [placing('noor', 'D > E')])).toEqual([null, 1, 2]);
  });

  test('"best: D" puts D over every other ratio cup the taster has noted, and over no other', () => {
    expect(ranksOf([noted('noor', 'C', 'D', 'E')], [placing('noor', 'D')])).toEqual([2.5, 1, 2.5]);
    expect(ranksOf([noted('noor', 'C')], [placing('noor', 'D')])).toEqual([2, 1, null]);
    expect(ranksOf([noted('teo', 'C', 'E')], [placing('noor', 'D')])).toEqual([null, null, null]);
  });

  test('"worst: C" puts C under every other ratio cup the taster has noted', () => {
    expect(ranksOf([noted('noor', 'C', 'D', 'E')], [placing('noor', '', { worst: 'C' })])).toEqual([
      3, 1.5, 1.5,
    ]);
  });

  test('best and worst in one message leave the rest between', () => {
    expect(ranksOf([noted('noor', 'C', 'D', 'E')], [placing('noor', 'D', { worst: 'C' })])).toEqual([
      3, 1, 2,
    ]);
  });

  test('likings rank the cups rated, the same liking being a tie', () => {
    expect(ranksOf([], [placing('noor', '', { liking: { C: 5, D: 8, E: 5 } })])).toEqual([2.5, 1, 2.5]);
  });

  test('likings sent one by one are read together, the latest per cup', () => {
    const said = [
      placing('noor', '', { liking: { D: 8 }, at: 1, id: 'a' }),
      placing('noor', '', { liking: { E: 6 }, at: 2, id: 'b' }),
      placing('noor', '', { liking: { D: 4 }, at: 3, id: 'c' }),
    ];
    expect(ranksOf([], said)).toEqual([null, 2, 1]);
    expect(ranksOf([], said.toReversed())).toEqual([null, 2, 1]);
  });

  test('the latest word on a pair counts and leaves earlier words on other pairs standing', () => {
    const said = [placing('noor', 'D > E > C', { at: 1 }), placing('noor', 'E > D', { at: 2, id: 'z' })];
    expect(ranksOf([], said)).toEqual([3, 2, 1]);
  });

  test('an order in the same message outweighs likings that say otherwise', () => {
    expect(ranksOf([], [placing('noor', 'E > D', { liking: { D: 7, E: 6, C: 2 } })])).toEqual([3, 2, 1]);
  });

  test('messages written at the same moment are ordered by id', () => {
    const said = [placing('noor', 'E > D', { id: 'b' }), placing('noor', 'D > E', { id: 'a' })];
    expect(ranksOf([], said)).toEqual([null, 2, 1]);
  });

  test('component cups in an order are left out and do not turn it into "best"', () => {
    expect(ranksOf([noted('noor', 'C', 'D', 'E')], [placing('noor', 'Chirinos > D')])).toBeUndefined();
    expect(ranksOf([noted('noor', 'C', 'D')], [placing('noor', 'Chirinos')])).toBeUndefined();
    expect(ranksOf([], [placing('noor', 'D > Chirinos > C')])).toEqual([2, 1, null]);
  });
});
