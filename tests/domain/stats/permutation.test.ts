import { describe, expect, test } from 'vitest';
import { cochranQ } from '../../../src/domain/stats/cochran-q.js';
import { friedman } from '../../../src/domain/stats/friedman.js';
import { sampledP, TALLY_PERMUTATIONS, USUAL_PERMUTATIONS } from '../../../src/domain/stats/p-values.js';
import { seededRandom } from '../../../src/domain/stats/seeded-random.js';
import { skillingsMack } from '../../../src/domain/stats/skillings-mack.js';

const SAMPLED = { ...USUAL_PERMUTATIONS, exactWork: 0 };
/** Four standard errors of a share estimated from 9,999 draws. */
const room = (p: number) => 4 * Math.sqrt((p * (1 - p)) / 9999) + 1e-4;

function table(seed: number, tasters: number, cups: number, below: number, gaps = false) {
  const draw = seededRandom(seed);
  return Array.from({ length: tasters }, () =>
    Array.from({ length: cups }, () => (gaps && draw(6) === 0 ? null : draw(below))),
  );
}

describe('sampled p-values', () => {
  test.each([1, 2, 3, 4, 5])('come near the exact ones (table %i)', (seed) => {
    const ranked = table(seed, 7, 3, 4).map((row) => row.map((value) => value ?? 0));
    const exact = friedman(ranked);
    const sampled = friedman(ranked, SAMPLED);
    expect([exact.method, sampled.method]).toEqual(['exact', 'permutation']);
    expect(Math.abs(sampled.p - exact.p)).toBeLessThan(room(exact.p));
  });

  test.each([1, 2, 3, 4, 5])('come near the exact ones when placings are missing (table %i)', (seed) => {
    const rows = table(seed, 5, 3, 5, true);
    const exact = skillingsMack(rows);
    expect(exact.method).toBe('exact');
    expect(Math.abs(skillingsMack(rows, SAMPLED).p - exact.p)).toBeLessThan(room(exact.p));
  });

  test.each([1, 2, 3, 4, 5])('come near the exact ones when tasters skip cups (table %i)', (seed) => {
    const rows = table(seed, 8, 3, 2, true);
    const exact = cochranQ(rows);
    expect(exact.method).toBe('exact');
    expect(Math.abs(cochranQ(rows, SAMPLED).p - exact.p)).toBeLessThan(room(exact.p));
  });

  test('the same table gives the same p-value, another seed another', () => {
    const rows = table(9, 20, 5, 9).map((row) => row.map((value) => value ?? 0));
    expect(friedman(rows, SAMPLED).p).toBe(friedman(rows, SAMPLED).p);
    expect(friedman(rows, { ...SAMPLED, seed: 1 }).p).not.toBe(friedman(rows, SAMPLED).p);
  });

  test('the table counts as one of the arrangements, so p is never 0', () => {
    expect(sampledP(() => false, { samples: 99, enoughExtreme: 20 })).toBe(1 / 100);
    expect(sampledP(() => true, { samples: 99, enoughExtreme: Number.POSITIVE_INFINITY })).toBe(1);
  });

  test('drawing stops early once enough are as extreme', () => {
    let drawn = 0;
    const everyOther = () => {
      drawn += 1;
      return drawn % 2 === 0;
    };
    expect(sampledP(everyOther, TALLY_PERMUTATIONS)).toBe(20 / 40);
    expect(drawn).toBe(40);
  });
});

describe('large tables', () => {
  test('more than forty tasters use chi-square, but a rare attribute is still exact', () => {
    const rows = Array.from({ length: 60 }, (_, taster) => [taster < 2 ? 1 : 0, 0, 0]);
    expect(cochranQ(rows)).toMatchObject({ method: 'exact' });
    // Two tasters, each free to have found it in any of three cups: the same cup 3 times in 9.
    expect(cochranQ(rows).p).toBeCloseTo(3 / 9, 12);
    expect(friedman(table(3, 60, 4, 9).map((row) => row.map((value) => value ?? 0))).method).toBe(
      'chi-square',
    );
  });
});
