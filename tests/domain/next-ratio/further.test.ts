import { describe, test } from 'vitest';
import further from '../../../fixtures/published/further.json' with { type: 'json' };
import { adjustedLikings } from '../../../src/domain/next-ratio/likings.js';
import {
  fitMixture,
  linearTerms,
  predict,
  quadraticTerms,
} from '../../../src/domain/next-ratio/mixture-model.js';
import { expectAllClose, expectClose } from '../stats/close.js';

// Values from statsmodels; fixtures/published/further.py says how each was computed. Least squares by another
// decomposition agrees to fewer digits than a sum does, so 1e-9 of the figure is asked for.

function shares(parts: readonly number[]): readonly number[] {
  const whole = parts.reduce((sum, part) => sum + part, 0);
  return parts.map((part) => part / whole);
}

describe('further mixture models and likings', () => {
  test.each(further.mixture)(
    '$kind model of 2 to 5 components, leave-one-out error $leaveOneOutError',
    (example) => {
      const components = example.parts[0]?.length ?? 0;
      const terms = example.kind === 'linear' ? linearTerms(components) : quadraticTerms(components);
      const model = fitMixture(example.parts.map(shares), example.y, terms);
      expectAllClose(model?.coefficients, example.coefficients, 1e-9);
      const fitted = example.parts.map((parts) =>
        model === null ? Number.NaN : predict(model, shares(parts)),
      );
      expectAllClose(fitted, example.fitted, 1e-9);
      const rss = example.y.reduce((sum, y, index) => sum + (y - (fitted[index] ?? 0)) ** 2, 0);
      expectClose(rss, example.rss, 1e-9);
      expectClose(model?.leaveOneOutError, example.leaveOneOutError, 1e-9);
    },
  );

  test.each(further.liking)(
    'likings of tasters who skipped cups, against statsmodels',
    ({ rows, adjusted }) => {
      const cups = adjusted.map((_, cup) => `c${cup}`);
      const likings = rows.flatMap((row, taster) =>
        row.flatMap((liking, cup) =>
          liking === null ? [] : [{ taster: `t${taster}`, cup: cups[cup] ?? '', liking }],
        ),
      );
      expectAllClose(
        adjustedLikings(cups, likings).map(({ liking }) => liking),
        adjusted,
        1e-10,
      );
    },
  );
});
