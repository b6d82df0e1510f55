import { describe, expect, test } from 'vitest';
import { type Evidence, judge } from '../../../src/domain/verdict/judge.js';

/** A over B over C over A. */
const CIRCLE = [
  [0, 2, 1],
  [1, 0, 2],
  [2, 1, 0],
];
const RANKS = { tasters: 12, meanRank: 1, rankSum: 12, weightedRankSum: 0 };

/** D first, E second, F third, D told from both: clear but for what is changed. */
function evidence(changes: Partial<Evidence>): Evidence {
  return {
    winner: 'D',
    standings: [
      { id: 'D', place: 1, ...RANKS },
      { id: 'E', place: 2, ...RANKS },
      { id: 'F', place: 3, ...RANKS },
    ],
    headToHead: [
      { other: 'E', wins: 11, losses: 1, ties: 0, p: 0.0063, pHolm: 0.0127 },
      { other: 'F', wins: 12, losses: 0, ties: 0, p: 0.0005, pHolm: 0.001 },
    ],
    wins: [],
    ...changes,
  };
}

describe('the limits of a verdict', () => {
  test.each([
    [0.049, 'clear'],
    [0.05, 'leaning'],
    [0.199, 'leaning'],
    [0.2, 'too close'],
    [1, 'too close'],
  ])('told from every other ratio, with p = %f it is %s', (p, verdict) => {
    expect(judge(evidence({}), p)).toBe(verdict);
  });

  test('a ratio that cannot be told from the winner, at exactly 5 % too, leaves it leaning', () => {
    const [e, f] = evidence({}).headToHead;
    for (const pHolm of [0.05, 0.4]) {
      const headToHead = e === undefined || f === undefined ? [] : [{ ...e, pHolm }, f];
      expect(judge(evidence({ headToHead }), 0.01)).toBe('leaning');
    }
  });

  test('a circle anywhere leaves it leaning', () => {
    expect(judge(evidence({ wins: CIRCLE }), 0.01)).toBe('leaning');
  });

  test('a runner-up who beats the winner, or draws level with it, head to head leaves it too close', () => {
    const third = { other: 'F', wins: 12, losses: 0, ties: 0, p: 0.0005, pHolm: 0.001 };
    for (const [wins, losses] of [
      [1, 11],
      [6, 6],
    ] as const) {
      const second = { other: 'E', wins, losses, ties: 0, p: 0.0063, pHolm: 0.0127 };
      expect(judge(evidence({ headToHead: [second, third] }), 0.01)).toBe('too close');
    }
  });

  test('a third ratio that beats the winner head to head leaves it leaning at most', () => {
    const [second] = evidence({}).headToHead;
    const third = { other: 'F', wins: 1, losses: 11, ties: 0, p: 0.0063, pHolm: 0.0127 };
    expect(judge(evidence({ headToHead: second === undefined ? [] : [second, third] }), 0.01)).toBe(
      'leaning',
    );
  });

  test('without a winner, or with nothing to set beside it, nothing is claimed', () => {
    expect(judge(evidence({ winner: null }), 0.01)).toBe('too close');
    expect(judge(evidence({ headToHead: [] }), 0.01)).toBe('too close');
  });
});
