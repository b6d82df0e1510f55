import fc from 'fast-check';
import { expect, test } from 'vitest';
import { weightedSums } from '../../../src/domain/stats/skillings-mack.js';
import { countRanks, weightedRankSumsOf, withMore } from '../../../src/domain/verdict/rank-table.js';

const CUPS = 5;

/** Midranks of a taster's places, null where a cup was not placed. */
const row = fc
  .array(fc.option(fc.integer({ min: 1, max: 4 }), { nil: null }), { minLength: CUPS, maxLength: CUPS })
  .map((places) =>
    places.map((place) => {
      if (place === null) return null;
      const below = places.filter((other) => other !== null && other < place).length;
      const level = places.filter((other) => other === place).length;
      return below + (level + 1) / 2;
    }),
  );
const rows = fc.array(row, { minLength: 1, maxLength: 12 });

test('a table that more tasters join adds up to the same as one that they sat at from the start', () => {
  fc.assert(
    fc.property(rows, row, fc.integer({ min: 1, max: 30 }), (table, more, tasters) => {
      const joined = withMore(countRanks(table, CUPS), countRanks([more], CUPS), tasters);
      const whole = countRanks([...table, ...Array.from({ length: tasters }, () => more)], CUPS);
      expect({ ...joined, doubled: new Map([...joined.doubled].sort()) }).toEqual({
        ...whole,
        doubled: new Map([...whole.doubled].sort()),
      });
    }),
  );
});

test('what ranks add up to does not depend on the order of the tasters, to the last bit', () => {
  fc.assert(
    fc.property(rows, (table) => {
      const forwards = countRanks(table, CUPS);
      const backwards = countRanks([...table].reverse(), CUPS);
      expect(weightedRankSumsOf(backwards)).toEqual(weightedRankSumsOf(forwards));
      expect(backwards.rankSums).toEqual(forwards.rankSums);
      expect(backwards.wins).toEqual(forwards.wins);
    }),
  );
});

test('two tasters who placed two cups weigh √(12 / 3) each, half a rank from the middle', () => {
  // Skillings & Mack 1981, the definition of A_j: √(12 / (m + 1)) × (rank − (m + 1) / 2), summed.
  const { doubled } = countRanks(
    [
      [1, 2],
      [1, 2],
    ],
    2,
  );
  expect(weightedSums(doubled, 2)).toEqual([-2, 2]);
});
