import { describe, expect, test } from 'vitest';
import elections from '../../../fixtures/published/elections.json' with { type: 'json' };
import further from '../../../fixtures/published/further.json' with { type: 'json' };
import { majorityCircles, pairwiseWins, smithSet } from '../../../src/domain/verdict/majorities.js';
import { rankedPairs } from '../../../src/domain/verdict/ranked-pairs.js';
import { decideWinner } from '../../../src/domain/verdict/verdict.js';
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
  return decideWinner({ ratioCups: cups(...input.candidates), notes: [], placings });
}

describe('published ballots', () => {
  for (const example of elections.examples) {
    const { id, source, input, fullPrecision } = example;
    const names = (order: readonly (readonly number[])[]) =>
      order.map((tier) => tier.map((at) => input.candidates[at]));

    test(`${id}: pairwise counts (${source})`, () => {
      expect(pairwiseWins(rowsOf(example), input.candidates.length)).toEqual(fullPrecision.pairwise);
    });

    test(`${id}: the Condorcet winner, or none`, () => {
      expect(decide(example).majorities.condorcetWinner).toBe(fullPrecision.condorcet_winner);
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
        const { order, skipped, tied } = rankedPairs(pairwiseWins(rowsOf(example), input.candidates.length));
        expect(names(order)).toEqual(fullPrecision.ranked_pairs_order?.map((candidate) => [candidate]));
        const given = skipped.map(
          ({ over, under }) => `${input.candidates[over]}>${input.candidates[under]}`,
        );
        expect(given.toSorted()).toEqual([...(fullPrecision.ranked_pairs_skipped ?? [])].sort());
        expect(tied).toBe(false);
      });
    }
  }

  test('the perfect three-way circle has no winner by ranked pairs, and says that it is tied', () => {
    const example = elections.examples.find(({ id }) => id === 'election-condorcet-paradox');
    const rows = example === undefined ? [] : rowsOf(example);
    const result = rankedPairs(pairwiseWins(rows, 3));
    expect(result).toMatchObject({ order: [[0, 1, 2]], tied: true });
    expect(smithSet(pairwiseWins(rows, 3))).toEqual([0, 1, 2]);
    expect(majorityCircles(pairwiseWins(rows, 3), [0, 1, 2])).toEqual([[0, 1, 2]]);
  });
});

describe('elections of three to five, by the definitions', () => {
  // Tideman's rule and the Smith set worked out the long way (fixtures/published/further.py).
  test.each(further.elections)('ranked pairs $rankedPairs, Smith set $smithSet', (election) => {
    const wins = pairwiseWins(election.ballots, election.rankedPairs.length);
    const { order, tied } = rankedPairs(wins);
    expect(order).toEqual(election.rankedPairs.map((cup) => [cup]));
    expect(tied).toBe(false);
    expect(smithSet(wins)).toEqual(election.smithSet);
  });
});

describe('Smith set and circles by hand', () => {
  test('a circle below a winner is found and is not in the Smith set', () => {
    const rows = [
      [1, 2, 3, 4],
      [1, 4, 2, 3],
      [1, 3, 4, 2],
    ];
    const wins = pairwiseWins(rows, 4);
    expect(smithSet(wins)).toEqual([0]);
    expect(majorityCircles(wins, [0, 1, 2, 3])).toEqual([[1, 2, 3]]);
  });

  test('two cups that tie head to head and beat the third are the Smith set, and no circle', () => {
    const wins = pairwiseWins(
      [
        [1, 2, 3],
        [2, 1, 3],
      ],
      3,
    );
    expect(smithSet(wins)).toEqual([0, 1]);
    expect(majorityCircles(wins, [0, 1, 2])).toEqual([]);
  });
});
