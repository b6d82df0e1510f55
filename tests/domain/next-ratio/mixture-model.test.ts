import { describe, expect, test } from 'vitest';
import published from '../../../fixtures/published/mixture.json' with { type: 'json' };
import closed from '../../../fixtures/published/mixture-closed-form.json' with { type: 'json' };
import optimum from '../../../fixtures/published/mixture-optimum.json' with { type: 'json' };
import predictions from '../../../fixtures/published/mixture-predictions.json' with { type: 'json' };
import {
  fitMixture,
  linearTerms,
  predict,
  quadraticTerms,
} from '../../../src/domain/next-ratio/mixture-model.js';

function close(
  actual: readonly number[] | null | undefined,
  expected: readonly number[],
  digits: number,
): void {
  expect(actual).toHaveLength(expected.length);
  expected.forEach((value, index) => {
    expect(actual?.[index]).toBeCloseTo(value, digits);
  });
}

describe('Scheffé models of published mixture experiments', () => {
  for (const { id, source, input, expected, decimals, fullPrecision } of published.examples) {
    test(`${id} (${source})`, () => {
      const model = fitMixture(input.x, input.y, input.terms);
      close(model?.coefficients, expected.coef, decimals.coef);
      close(model?.coefficients, fullPrecision.coef, 8);
      const fitted = input.x.map((shares) => (model === null ? Number.NaN : predict(model, shares)));
      close(fitted, fullPrecision.fitted, 8);
      const rss = input.y.reduce((sum, y, index) => sum + (y - (fitted[index] ?? 0)) ** 2, 0);
      expect(rss).toBeCloseTo(fullPrecision.rss, 7);
    });
  }

  test('the yarn model’s terms are the quadratic model of three components', () => {
    expect(quadraticTerms(3)).toEqual(published.examples[0]?.input.terms);
    expect(linearTerms(3)).toEqual([[0], [1], [2]]);
  });

  test(`predictions (${predictions.examples[0]?.source})`, () => {
    const { input, expected, decimals, fullPrecision } = predictions.examples[0] ?? {};
    const model = { terms: input?.terms ?? [], coefficients: input?.coef ?? [] };
    expected?.pred.forEach((value, index) => {
      expect(predict(model, input?.x[index] ?? [])).toBeCloseTo(value, decimals?.pred[index]);
    });
    close(
      input?.x.map((shares) => predict(model, shares)),
      fullPrecision?.pred ?? [],
      9,
    );
  });

  test('the best yarn on a 1 % grid is 29 % and 71 %, as the edge’s parabola says', () => {
    const { input, fullPrecision } = optimum.examples[0] ?? {};
    const model = { terms: input?.terms ?? [], coefficients: input?.coef ?? [] };
    const grid = Array.from({ length: 101 }, (_, a) =>
      Array.from({ length: 101 - a }, (__, b) => [a / 100, b / 100, (100 - a - b) / 100]),
    ).flat();
    const best = grid.reduce((top, shares) => (predict(model, shares) > predict(model, top) ? shares : top));
    expect(best).toEqual(fullPrecision?.x);
    expect(predict(model, best)).toBeCloseTo(fullPrecision?.y ?? Number.NaN, 5);
  });

  test('a saturated model follows the closed form and claims no error', () => {
    const { input, expected } = closed.examples[0] ?? {};
    const model = fitMixture(input?.x ?? [], input?.y ?? [], input?.terms ?? []);
    close(model?.coefficients, expected?.coef ?? [], 9);
    expect(model?.leaveOneOutError).toBeNull();
  });

  test(`on a lattice the blending terms are 4 times the mean less twice both ends (${closed.examples[1]?.source})`, () => {
    const points = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [0.5, 0.5, 0],
      [0.5, 0, 0.5],
      [0, 0.5, 0.5],
    ];
    const means = [11.7, 9.4, 16.4, 15.3, 16.9, 10.5];
    const { b12 = [], b13 = [], b23 = [] } = closed.examples[1]?.expected ?? {};
    const ends = [11.7, 9.4, 16.4];
    expect([...b12, ...b13, ...b23]).toEqual([19, 11.4, -9.6]);
    close(fitMixture(points, means, quadraticTerms(3))?.coefficients, [...ends, ...b12, ...b13, ...b23], 9);
  });
});

describe('points that cannot carry a model', () => {
  test('fewer points than terms, or all in one place, yield none', () => {
    expect(fitMixture([[1, 0]], [5], linearTerms(2))).toBeNull();
    expect(
      fitMixture(
        [
          [0.5, 0.5],
          [0.5, 0.5],
          [0.5, 0.5],
        ],
        [5, 6, 7],
        linearTerms(2),
      ),
    ).toBeNull();
    expect(fitMixture([], [], linearTerms(2))).toBeNull();
  });
});
