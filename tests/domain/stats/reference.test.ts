import { describe, expect, test } from 'vitest';
import reference from '../../../fixtures/published/reference.json' with { type: 'json' };
import { adjustedLikings } from '../../../src/domain/next-ratio/likings.js';
import {
  fitMixture,
  linearTerms,
  predict,
  quadraticTerms,
} from '../../../src/domain/next-ratio/mixture-model.js';
import { agreementOn } from '../../../src/domain/panel/agreement.js';
import { cochranQ } from '../../../src/domain/stats/cochran-q.js';
import { friedman, leastSignificantRankDifference } from '../../../src/domain/stats/friedman.js';
import { wilsonInterval } from '../../../src/domain/stats/intervals.js';
import { holm } from '../../../src/domain/stats/p-values.js';
import { skillingsMack } from '../../../src/domain/stats/skillings-mack.js';
import { compareShares } from '../../../src/domain/trace/trace.js';
import { binomialUpperTail } from './binomial.js';
import { pChiSquare } from './close.js';
import { weightedRankSums } from './rank-tables.js';

// Values from R (fixtures/published/reference.R says how each was computed).

function closeTo(actual: number | null, expected: number, relative = 1e-12): void {
  expect(actual).not.toBeNull();
  expect(Math.abs((actual ?? Number.NaN) - expected)).toBeLessThanOrEqual(
    relative * Math.max(1e-3, Math.abs(expected)),
  );
}

function allClose(actual: readonly number[], expected: readonly number[], relative = 1e-12): void {
  expect(actual).toHaveLength(expected.length);
  expected.forEach((value, index) => {
    closeTo(actual[index] ?? Number.NaN, value, relative);
  });
}

describe('ranks, against R', () => {
  test.each(reference.friedman)('Friedman with ties, statistic $statistic', ({ rows, statistic, p }) => {
    const result = friedman(rows);
    closeTo(result.statistic, statistic);
    closeTo(pChiSquare(result), p);
  });

  test.each(reference.friedmanExact)('Friedman, every arrangement listed: p = $p', ({ rows, p }) => {
    expect(friedman(rows)).toMatchObject({ method: 'exact' });
    closeTo(friedman(rows).p, p);
  });

  test.each(reference.skillingsMack)('Skillings–Mack, statistic $statistic', (table) => {
    const result = skillingsMack(table.rows);
    closeTo(result.statistic, table.statistic, 1e-11);
    closeTo(pChiSquare(result), table.p, 1e-11);
    allClose(weightedRankSums(table.rows), table.weightedRankSums);
  });

  test('Skillings–Mack on the table of its paper (Table 1, p. 173; 15.493 and p 0.0014 from memory)', () => {
    const result = skillingsMack(reference.skillingsMack[0]?.rows ?? []);
    expect(result.statistic).toBeCloseTo(15.493, 3);
    expect(pChiSquare(result)).toBeCloseTo(0.0014, 4);
    expect(result.df).toBe(3);
  });

  test('Skillings–Mack, every arrangement of a small table listed', () => {
    const { rows, p } = reference.skillingsMackExact;
    expect(skillingsMack(rows)).toMatchObject({ method: 'exact' });
    closeTo(skillingsMack(rows).p, p);
  });

  test('Skillings–Mack without gaps or ties is Friedman (both papers say so)', () => {
    const rows = [
      [1, 2, 3, 4],
      [2, 1, 3, 4],
      [1, 3, 2, 4],
      [4, 1, 2, 3],
      [1, 2, 4, 3],
    ];
    closeTo(skillingsMack(rows).statistic, friedman(rows).statistic ?? Number.NaN, 1e-11);
  });

  test.each(reference.rankDifference)('rank difference of $tasters tasters and $cups cups', (example) => {
    closeTo(leastSignificantRankDifference(example.tasters, example.cups), example.difference);
  });
});

describe('counts, against R', () => {
  test.each(reference.cochranExact)("Cochran's Q, every arrangement listed: p = $p", ({ rows, p }) => {
    expect(cochranQ(rows)).toMatchObject({ method: 'exact' });
    closeTo(cochranQ(rows).p, p);
  });

  test.each(reference.cochranIncomplete)(
    "Cochran's Q with gaps is Mantel–Haenszel, $q",
    ({ rows, q, df, p }) => {
      const result = cochranQ(rows);
      expect(result.df).toBe(df);
      closeTo(result.q, q, 1e-10);
      closeTo(pChiSquare(result), p, 1e-10);
    },
  );

  test.each(reference.binomial)('$x or more of $n at $chance', ({ x, n, chance, upper }) => {
    const [a = 1, b = 2] = chance;
    closeTo(binomialUpperTail(x, n, [a, b]), upper);
  });

  test.each(reference.wilson)('Wilson interval of $x of $n', ({ x, n, low, high }) => {
    allClose(wilsonInterval(x, n), [low, high]);
  });

  test.each(reference.holm)('Holm of $p', ({ p, adjusted }) => {
    allClose(holm(p), adjusted);
  });

  test.each(reference.kappa)('agreement and kappa of $found found of $noted', (example) => {
    const agreed = agreementOn(example.found.map((found) => ({ found, noted: example.noted })));
    closeTo(agreed?.agreement ?? null, example.agreement);
    closeTo(agreed?.kappa ?? null, example.kappa, 1e-11);
  });
});

describe('blends, against R', () => {
  test.each(reference.trace)('blend share $blend less what its components lead to expect', (example) => {
    const [tasters = 0, noted = 0] = example.blend;
    const result = compareShares(
      { tasters, noted },
      example.components.map(([weight = 0, found = 0, of = 0]) => ({ weight, tasters: found, noted: of })),
    );
    closeTo(result.expected, example.expected);
    closeTo(result.difference, example.difference);
    allClose(result.interval, [example.low, example.high], 1e-11);
  });

  test.each(reference.mixture)('$kind mixture model with its leave-one-out error', (example) => {
    const terms = example.kind === 'linear' ? linearTerms(3) : quadraticTerms(3);
    const model = fitMixture(example.points, example.y, terms);
    allClose(model?.coefficients ?? [], example.coefficients, 1e-10);
    const rss = example.points.reduce(
      (sum, shares, index) =>
        sum + ((example.y[index] ?? 0) - (model === null ? Number.NaN : predict(model, shares))) ** 2,
      0,
    );
    closeTo(rss, example.rss, 1e-10);
    closeTo(model?.leaveOneOutError ?? null, example.leaveOneOutError, 1e-10);
  });

  test('likings with gaps are made comparable by fitting taster and cup together', () => {
    const { rows, adjusted } = reference.liking;
    const likings = rows.flatMap((row, taster) =>
      row.flatMap((liking, cup) =>
        liking === null ? [] : [{ taster: `t${taster}`, cup: `c${cup}`, liking }],
      ),
    );
    const result = adjustedLikings(['c0', 'c1', 'c2', 'c3'], likings);
    allClose(
      result.map(({ liking }) => liking),
      adjusted,
      1e-11,
    );
  });
});
