import { describe, expect, test } from 'vitest';
import elections from '../../../fixtures/published/elections.json' with { type: 'json' };
import further from '../../../fixtures/published/further.json' with { type: 'json' };
import { majorityCircles, rankedPairs } from '../../../src/domain/verdict/majorities.js';
import { pairwiseWins } from '../../../src/domain/verdict/rank-table.js';
import { decideTable } from './decide.js';
import { cups } from './placings.js';

type Example = (typeof elections.examples)[number];

function rowsOf({ input }: Example) {
  return input.ballots.flatMap(({ count, ranking }) =>
    Array.from({ length: count }, () => input.candidates.map((candidate) => ranking.indexOf(candidate) + 1)),
  );
}

function decide({ input }: Example) {
  const placings = input.ballots.flatMap(({ count, ranking }, ballot) =>
    Array.from({ length: count }, (_, voter) => ({
      taster: `${ballot}-${voter}`,
      at: 0,
      id: `${ballot}-${voter}`,
      order: ranking.map((cup) => [cup]),
      liking: {},
    })),
  );
  return decideTable({ ratioCups: cups(...input.candidates), notes: [], placings });
}

describe('published ballots', () => {
  for (const example of elections.examples) {
    const { id, source, input, fullPrecision } = example;
    const names = (order: readonly (readonly number[])[]) =>
      order.map((tier) => tier.map((at) => input.candidates[at]));

    test(`${id}: pairwise counts (${source})`, () => {
      expect(pairwiseWins(rowsOf(example), input.candidates.length)).toEqual(fullPrecision.pairwise);
    });

    test(`${id}: mean ranks order the cups as Borda counts do`, () => {
      const points = new Map(
        input.candidates.map((candidate, at) => [candidate, fullPrecision.borda[at] ?? 0]),
      );
      const { standings } = decide(example);
      const voters = rowsOf(example).length;
      for (const { id: cup, meanRank } of standings) {
        expect(points.get(cup)).toBeCloseTo((input.candidates.length - (meanRank ?? 0)) * voters, 9);
      }
      const borda = standings.map(({ id: cup }) => points.get(cup) ?? 0);
      expect(borda).toEqual([...borda].sort((a, b) => b - a));
    });

    if ('ranked_pairs_order' in fullPrecision && fullPrecision.ranked_pairs_order !== undefined) {
      test(`${id}: ranked pairs`, () => {
        const order = rankedPairs(pairwiseWins(rowsOf(example), input.candidates.length));
        expect(names(order)).toEqual(fullPrecision.ranked_pairs_order?.map((candidate) => [candidate]));
      });
    }
  }

  test('the perfect three-way circle has no winner by ranked pairs', () => {
    const example = elections.examples.find(({ id }) => id === 'election-condorcet-paradox');
    const rows = example === undefined ? [] : rowsOf(example);
    expect(rankedPairs(pairwiseWins(rows, 3))).toEqual([[0, 1, 2]]);
    expect(majorityCircles(pairwiseWins(rows, 3), [0, 1, 2])).toEqual([[0, 1, 2]]);
  });
});

describe('elections of three to five, by the definitions', () => {
  // Tideman's rule worked out the long way (fixtures/published/further.py).
  test.each(further.elections)('ranked pairs $rankedPairs', (election) => {
    const wins = pairwiseWins(election.ballots, election.rankedPairs.length);
    expect(rankedPairs(wins)).toEqual(election.rankedPairs.map((cup) => [cup]));
  });
});

describe('circles by hand', () => {
  test('a circle below a winner is found', () => {
    const rows = [
      [1, 2, 3, 4],
      [1, 4, 2, 3],
      [1, 3, 4, 2],
    ];
    const wins = pairwiseWins(rows, 4);
    expect(majorityCircles(wins, [0, 1, 2, 3])).toEqual([[1, 2, 3]]);
  });

  test('two cups that tie head to head and beat the third are no circle', () => {
    const wins = pairwiseWins(
      [
        [1, 2, 3],
        [2, 1, 3],
      ],
      3,
    );
    expect(majorityCircles(wins, [0, 1, 2])).toEqual([]);
  });
});
