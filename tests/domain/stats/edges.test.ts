import { describe, expect, test } from 'vitest';
import { cochranQ } from '../../../src/domain/stats/cochran-q.js';
import { chiSquareUpperTail } from '../../../src/domain/stats/distributions.js';
import { friedman, midranks } from '../../../src/domain/stats/friedman.js';
import { meanInterval, wilsonInterval } from '../../../src/domain/stats/intervals.js';
import { signTest } from '../../../src/domain/stats/sign-test.js';
import { skillingsMack } from '../../../src/domain/stats/skillings-mack.js';
import { weightedRankSums } from './rank-tables.js';

describe('nobody', () => {
  test('leaves everything open: whole intervals, p = 1', () => {
    expect(wilsonInterval(0, 0)).toEqual([0, 1]);
    expect(signTest(0, 0)).toBe(1);
    expect(midranks([])).toEqual([]);
    expect(meanInterval([])).toBeNull();
    expect(chiSquareUpperTail(3, 0)).toBe(1);
  });

  test('is no table for a rank test', () => {
    for (const empty of [() => friedman([]), () => skillingsMack([]), () => cochranQ([])]) {
      expect(empty).toThrow(RangeError);
    }
  });
});

describe('one taster', () => {
  test('ranks three cups and tells nothing from luck: p = 1 of six orders, each as extreme', () => {
    expect(friedman([[1, 2, 3]])).toMatchObject({ statistic: 2, p: 1, w: 1, rankSums: [1, 2, 3] });
    expect(skillingsMack([[1, null, 2]])).toMatchObject({ p: 1, df: 1 });
    expect(cochranQ([[1, 0, 0]])).toMatchObject({ q: 2, p: 1 });
  });

  test('has a rank and no spread; two who agree have no spread to go by either', () => {
    expect(meanInterval([2])).toBeNull();
    expect(meanInterval([2, 2])).toEqual([2, 2]);
  });

  test('who prefers one of two is one of two outcomes, both as extreme', () => {
    expect(signTest(1, 0)).toBe(1);
    expect(friedman([[1, 2]]).p).toBe(1);
  });

  test('finding or not finding it says little: (z²/(1 + z²) and its mirror)', () => {
    const z2 = 1.959963984540054 ** 2;
    expect(wilsonInterval(0, 1)).toEqual([0, expect.closeTo(z2 / (1 + z2), 14)]);
    expect(wilsonInterval(1, 1)).toEqual([expect.closeTo(1 / (1 + z2), 14), 1]);
  });
});

describe('one cup', () => {
  test('cannot be compared, and is refused', () => {
    for (const single of [
      () => friedman([[1], [2]]),
      () => skillingsMack([[1], [2]]),
      () => cochranQ([[1], [0]]),
    ]) {
      expect(single).toThrow(RangeError);
    }
  });
});

describe('missing answers', () => {
  test('a table of gaps alone, or of single placings, leaves nothing to compare', () => {
    for (const rows of [
      [
        [null, null, null],
        [null, null, null],
      ],
      [
        [1, null, null],
        [null, 1, null],
        [null, null, 1],
      ],
    ]) {
      const nothing = { p: 1, df: 0, statistic: null };
      expect(weightedRankSums(rows)).toEqual([0, 0, 0]);
      expect(skillingsMack(rows)).toMatchObject(nothing);
      expect(cochranQ(rows)).toMatchObject({ q: null, p: 1, residuals: [0, 0, 0] });
    }
  });

  test('a taster who placed one cup, or none, changes neither statistic nor p', () => {
    const rows = [
      [1, 2, 3],
      [1, 3, 2],
      [1, null, 2],
      [2, 1, 3],
    ];
    const { statistic, p } = skillingsMack(rows);
    const more = skillingsMack([...rows, [null, 1, null], [null, null, null]]);
    expect(more.statistic).toBeCloseTo(statistic ?? Number.NaN, 12);
    expect(more.p).toBeCloseTo(p, 12);
  });

  test('a cup that nobody has takes no degree of freedom', () => {
    const three = [
      [1, 2, 3],
      [1, 3, 2],
      [1, 2, 3],
      [1, null, 2],
    ];
    const four = three.map((row) => [...row, null]);
    expect(skillingsMack(four).df).toBe(2);
    expect(skillingsMack(four).p).toBeCloseTo(skillingsMack(three).p, 12);
    expect(weightedRankSums(four)[3]).toBe(0);
  });
});

describe('everyone ties', () => {
  test.each([1, 2, 6, 41, 200])(
    '%i tasters who tie all give p = 1, exactly, with gaps and without',
    (tasters) => {
      const tied = Array.from({ length: tasters }, () => [4, 4, 4]);
      const gaps = tied.map((row, taster) => row.map((value, cup) => (cup === taster % 3 ? null : value)));
      expect(friedman(tied)).toMatchObject({
        p: 1,
        statistic: null,
        w: null,
        method: 'exact',
      });
      expect(skillingsMack(gaps)).toMatchObject({ p: 1, statistic: null, method: 'exact' });
      for (const found of [0, 1]) {
        const alike = tied.map((row) => row.map(() => found));
        expect(cochranQ(alike)).toMatchObject({ p: 1, q: null, method: 'exact' });
        expect(
          cochranQ(gaps.map((row) => row.map((value) => (value === null ? null : found)))),
        ).toMatchObject({ p: 1, q: null });
      }
    },
  );
});

describe('counts that cannot be', () => {
  test('are refused', () => {
    for (const wrong of [
      () => signTest(1.5, 2),
      () => signTest(Number.NaN, 2),
      () => friedman([[1, 2], [1]]),
      () => skillingsMack([[1, 2], [1]]),
      () => cochranQ([[1, 0], [1]]),
    ]) {
      expect(wrong).toThrow(RangeError);
    }
  });
});
