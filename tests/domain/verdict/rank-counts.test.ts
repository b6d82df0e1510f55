import fc from 'fast-check';
import { expect, test } from 'vitest';
import { weightedSums } from '../../../src/domain/stats/skillings-mack.js';
import { countRanks } from '../../../src/domain/verdict/rank-table.js';

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

test('what ranks add up to does not depend on the order of the tasters, to the last bit', () => {
  fc.assert(
    fc.property(rows, (table) => {
      const forwards = countRanks(table, CUPS);
      const backwards = countRanks([...table].reverse(), CUPS);
      expect(weightedSums(backwards.doubled, CUPS)).toEqual(weightedSums(forwards.doubled, CUPS));
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
