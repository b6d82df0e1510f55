import { expect, test } from 'vitest';
import { distinctArrangements, rearranger, shuffle } from '../../../src/domain/stats/arrangements.js';
import { seededRandom } from '../../../src/domain/stats/seeded-random.js';

const DRAWS = 6000;

/** How often each arrangement came. */
function tallied(drawOne: () => readonly number[]): ReadonlyMap<string, number> {
  const seen = new Map<string, number>();
  for (let drawn = 0; drawn < DRAWS; drawn += 1) {
    const key = drawOne().join();
    seen.set(key, (seen.get(key) ?? 0) + 1);
  }
  return seen;
}

/** Every arrangement comes, no other does, and each about equally often (five standard errors). */
function expectEven(seen: ReadonlyMap<string, number>, arrangements: readonly (readonly number[])[]): void {
  expect([...seen.keys()].sort()).toEqual(arrangements.map((each) => each.join()).sort());
  const share = DRAWS / arrangements.length;
  for (const count of seen.values()) expect(Math.abs(count - share)).toBeLessThan(5 * Math.sqrt(share));
}

test.each([
  { scores: [1, 0, 0] },
  { scores: [1, 1, 0, 0] },
  { scores: [1, 1, 1, 0, 0] },
  { scores: [1, 1, 0, 0, 0, 0] },
  { scores: [3, 1, 2] },
  { scores: [2, 2, 1, 5] },
])(
  'a block of $scores is drawn in each of its arrangements equally often, others’ columns left alone',
  ({ scores }) => {
    // The block holds every second column of the table.
    const columns = scores.map((_, index) => 2 * index);
    const addTo = rearranger({ columns, scores }, seededRandom(11));
    const seen = tallied(() => {
      const totals = new Array<number>(2 * scores.length).fill(0);
      addTo(totals);
      expect(totals.filter((total, column) => column % 2 === 1 && total !== 0)).toEqual([]);
      return columns.map((column) => totals[column] ?? 0);
    });
    expectEven(seen, distinctArrangements(scores));
  },
);

test('a shuffle comes out in each order equally often', () => {
  const draw = seededRandom(5);
  const seen = tallied(() => {
    const values = [1, 2, 3, 4];
    shuffle(values, draw);
    return values;
  });
  expectEven(seen, distinctArrangements([1, 2, 3, 4]));
});
