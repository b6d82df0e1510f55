import { describe, expect, test } from 'vitest';
import lsd from '../../../fixtures/published/rank-difference.json' with { type: 'json' };
import pairs from '../../../fixtures/published/rank-difference-pairs.json' with { type: 'json' };
import { leastSignificantRankDifference } from '../../../src/domain/stats/friedman.js';
import { decideTable } from './decide.js';
import { cups, noted, placing, placings } from './placings.js';

const LABELS = ['A', 'B', 'C', 'D', 'E', 'F'];

function unanimous(tasters: number, ratios: number) {
  const labels = LABELS.slice(0, ratios);
  return decideTable({
    ratioCups: cups(...labels),
    notes: [],
    placings: placings(labels.join(' > '), tasters),
  });
}

describe('how sure', () => {
  // 2 ratios: 2/2^6 = 0.031. 3 and 4: 2 or 3 times 2/2^7 = 0.047. 5 and 6: 4 or 5 times 2/2^8 = 0.039 at most.
  test.each([
    [2, 6],
    [3, 7],
    [4, 7],
    [5, 8],
    [6, 8],
  ])('a unanimous table of %i ratios is clear from %i tasters and from no fewer', (ratios, fewest) => {
    for (let tasters = 1; tasters < fewest; tasters += 1) {
      expect(unanimous(tasters, ratios).verdict).not.toBe('clear');
    }
    for (const tasters of [0, 1, 2, 3, 4, 12, 24, 33, 40, 60].map((more) => fewest + more)) {
      expect(unanimous(tasters, ratios)).toMatchObject({
        verdict: 'clear',
        winner: 'A',
        decidedBy: 'mean rank',
      });
    }
  });

  test('five of five over one other ratio lean: p = 0.0625', () => {
    expect(unanimous(5, 2)).toMatchObject({ verdict: 'leaning', p: 0.0625, indistinguishable: ['B'] });
  });

  test('8 of 9 put D over E: p = 0.039, clear between two', () => {
    const result = decideTable({
      ratioCups: cups('D', 'E'),
      notes: [],
      placings: [...placings('D > E', 8), ...placings('E > D', 1)],
    });
    expect(result.headToHead).toEqual([
      { other: 'E', wins: 8, losses: 1, ties: 0, p: 20 / 512, pHolm: 20 / 512 },
    ]);
    expect(result.verdict).toBe('clear');
    expect(result.wouldChange.turn).toEqual({ cup: 'E', tasters: 8 });
  });

  test('everyone tying everything is too close, with p = 1 and every ratio level', () => {
    const result = decideTable({
      ratioCups: cups('C', 'D', 'E'),
      notes: [],
      placings: placings('C = D = E', 12),
    });
    expect(result).toMatchObject({
      verdict: 'too close',
      p: 1,
      winner: null,
      decidedBy: 'host',
      kendallW: null,
    });
    expect(result.level).toEqual(['C', 'D', 'E']);
  });

  test('a table that tells the ratios apart, but not the best two, does not call them clear', () => {
    const result = decideTable({
      ratioCups: cups('A', 'B', 'C'),
      notes: [],
      placings: [...placings('A > B > C', 7), ...placings('B > A > C', 5)],
    });
    expect(result.test).toBe('friedman');
    expect(result.p).toBeLessThan(0.05);
    expect(result).toMatchObject({ winner: 'A', verdict: 'leaning', indistinguishable: ['B'] });
    expect(result.wouldChange.turn).toEqual({ cup: 'B', tasters: 3 });
  });

  test('what is said to settle a verdict does, and one taster fewer does not', () => {
    const said = [...placings('A > B > C', 7), ...placings('B > A > C', 3)];
    const ratioCups = cups('A', 'B', 'C');
    const more = decideTable({ ratioCups, notes: [], placings: said }).wouldChange.settle?.tasters ?? 0;
    const verdictWith = (extra: number) =>
      decideTable({ ratioCups, notes: [], placings: [...said, ...placings('A > B > C', extra, 'late')] })
        .verdict;
    expect(more).toBeGreaterThan(0);
    expect(verdictWith(more)).toBe('clear');
    expect(verdictWith(more - 1)).not.toBe('clear');
  });

  test('what is said to turn a verdict does, and one taster fewer does not', () => {
    const said = [...placings('A > B > C', 6), ...placings('B > C > A', 3), ...placings('C > A > B', 1)];
    const ratioCups = cups('A', 'B', 'C');
    const { turn } = decideTable({ ratioCups, notes: [], placings: said }).wouldChange;
    const winnerWith = (extra: number) =>
      decideTable({ ratioCups, notes: [], placings: [...said, ...placings('B > A > C', extra, 'late')] })
        .winner;
    expect(turn?.cup).toBe('B');
    expect(winnerWith(turn?.tasters ?? 0)).toBe('B');
    expect(winnerWith((turn?.tasters ?? 0) - 1)).not.toBe('B');
  });
});

describe('majorities that disagree', () => {
  test('a circle leaves at most leaning and is told from the winner, with the order by ranked pairs', () => {
    const result = decideTable({
      ratioCups: cups('A', 'B', 'C'),
      notes: [],
      placings: [...placings('A > B > C', 35), ...placings('C > A > B', 32), ...placings('B > C > A', 33)],
    });
    expect(result.verdict).not.toBe('clear');
    expect(result.majorities).toMatchObject({
      circles: [['A', 'B', 'C']],
      rankedPairs: [['A'], ['B'], ['C']],
    });
  });

  test('a circle among the others keeps even a unanimous winner at leaning', () => {
    const result = decideTable({
      ratioCups: cups('A', 'B', 'C', 'D'),
      notes: [],
      placings: [
        ...placings('A > B > C > D', 5),
        ...placings('A > C > D > B', 5),
        ...placings('A > D > B > C', 5),
      ],
    });
    expect(result).toMatchObject({ winner: 'A', verdict: 'leaning', indistinguishable: [] });
    expect(result.majorities).toMatchObject({ circles: [['B', 'C', 'D']], beatWinner: [] });
  });

  test('a ratio that beats the winner head to head is named', () => {
    // B has the lowest mean rank (1.4 against 1.6), and three of five put A over it.
    const result = decideTable({
      ratioCups: cups('A', 'B', 'C'),
      notes: [],
      placings: [...placings('A > B > C', 3), ...placings('B > C > A', 2)],
    });
    expect(result.winner).toBe('B');
    expect(result.majorities).toMatchObject({ beatWinner: ['A'] });
    expect(result.verdict).toBe('too close');
  });
});

describe('ties at the top', () => {
  const level = [...placings('D > E', 3), ...placings('E > D', 3)];

  test('go to the lower cost', () => {
    const ratioCups = [
      { id: 'D', costPerKgCents: 1240 },
      { id: 'E', costPerKgCents: 1190 },
    ];
    const result = decideTable({ ratioCups, notes: [], placings: level });
    expect(result).toMatchObject({
      winner: 'E',
      decidedBy: 'lower cost',
      verdict: 'too close',
      level: ['D', 'E'],
    });
  });

  test('go to the host when a cost is unknown or the same', () => {
    const [unknown, same] = [null, 1240].map((costPerKgCents) =>
      decideTable({
        ratioCups: [
          { id: 'D', costPerKgCents: 1240 },
          { id: 'E', costPerKgCents },
        ],
        notes: [],
        placings: level,
      }),
    );
    expect(unknown).toMatchObject({ winner: null, decidedBy: 'host' });
    expect(same).toMatchObject({ winner: null, decidedBy: 'host' });
  });

  test('the host’s choice is heard among level ratios and among those only', () => {
    const ratioCups = cups('D', 'E', 'F');
    const said = [...placings('D > E > F', 3), ...placings('E > D > F', 3)];
    const choose = (hostChoice: string) => decideTable({ ratioCups, notes: [], placings: said, hostChoice });
    expect(choose('E')).toMatchObject({ winner: 'E', decidedBy: 'host' });
    expect(choose('F')).toMatchObject({ winner: null, decidedBy: 'host' });
  });
});

describe('missing placings', () => {
  test('a cup some never placed is missing, not last, and nobody is dropped', () => {
    const said = [
      ...placings('D > E', 4),
      ...placings('D > E > C', 4),
      placing('one', '', { liking: { D: 9 } }),
    ];
    const result = decideTable({ ratioCups: cups('C', 'D', 'E'), notes: [], placings: said });
    expect(result.p).toBeLessThan(0.05);
    expect(result).toMatchObject({
      test: 'skillings-mack',
      winner: 'D',
      decidedBy: 'weighted rank sum',
    });
    expect(result.placed).toHaveLength(8);
    expect(result.standings.map(({ id, tasters, meanRank }) => [id, tasters, meanRank])).toEqual([
      ['D', 8, 1],
      ['E', 8, 2],
      ['C', 4, 3],
    ]);
    expect(result.kendallW).toEqual({ w: 1, tasters: 4 });
    expect(result.headToHead.find(({ other }) => other === 'C')).toMatchObject({
      wins: 4,
      losses: 0,
      p: 0.125,
    });
    expect(result.verdict).toBe('leaning');
  });

  test('a ratio nobody placed stays outside the verdict and is named', () => {
    const result = decideTable({
      ratioCups: cups('D', 'E', 'F'),
      notes: [],
      placings: placings('D > E', 6),
    });
    expect(result).toMatchObject({ verdict: 'clear', winner: 'D' });
    expect(result.standings.at(-1)).toMatchObject({ id: 'F', meanRank: null, place: null });
  });

  test('"best: D" from people who noted all three counts for D against both', () => {
    const people = ['a', 'b', 'c', 'd', 'e', 'f', 'g'];
    const result = decideTable({
      ratioCups: cups('C', 'D', 'E'),
      notes: people.map((taster) => noted(taster, 'C', 'D', 'E')),
      placings: people.map((taster) => placing(taster, 'D')),
    });
    expect(result).toMatchObject({ winner: 'D', verdict: 'clear' });
    expect(new Map(result.standings.map(({ id, meanRank }) => [id, meanRank]))).toEqual(
      new Map([
        ['D', 1],
        ['C', 2.5],
        ['E', 2.5],
      ]),
    );
  });

  test('nobody placed anything', () => {
    const result = decideTable({ ratioCups: cups('D', 'E'), notes: [], placings: [] });
    expect(result).toMatchObject({ winner: null, decidedBy: 'nobody placed', verdict: 'too close', p: 1 });
    expect(result.wouldChange).toEqual({ turn: null, settle: null });
  });

  test('a single ratio wins because it is the only one, and nothing is claimed', () => {
    const result = decideTable({ ratioCups: cups('D'), notes: [], placings: [] });
    expect(result).toMatchObject({ winner: 'D', decidedBy: 'only ratio', verdict: 'too close' });
  });
});

describe('least significant rank difference', () => {
  test(`48 judges, 4 sweeteners (${lsd.examples[0]?.source})`, () => {
    const { expected, fullPrecision } = lsd.examples[0] ?? {};
    expect(leastSignificantRankDifference(48, 4)).toBeCloseTo(expected?.lsd ?? Number.NaN, 1);
    expect(leastSignificantRankDifference(48, 4)).toBeCloseTo(fullPrecision?.lsd ?? Number.NaN, 9);
  });

  test(`eleven assessors: the pairs the publication tells apart (${pairs.examples[0]?.source})`, () => {
    const sums = new Map([
      ['A', 33],
      ['B', 14],
      ['C', 20],
      ['D', 43],
    ]);
    const least = leastSignificantRankDifference(11, 4);
    const differ = (pair: string) => {
      const [a = '', b = ''] = pair.split('-');
      return Math.abs((sums.get(a) ?? 0) - (sums.get(b) ?? 0)) >= least;
    };
    expect(least).toBeCloseTo(pairs.examples[0]?.fullPrecision.lsd ?? Number.NaN, 9);
    expect(pairs.examples[0]?.expected.pairs_that_differ.every(differ)).toBe(true);
    expect(pairs.examples[0]?.expected.pairs_that_do_not.some(differ)).toBe(false);
  });
});
