import { describe, expect, test } from 'vitest';
import { USUAL_PERMUTATIONS } from '../../../src/domain/stats/p-values.js';
import { seededRandom } from '../../../src/domain/stats/seeded-random.js';
import { binomialUpperTail } from '../stats/binomial.js';
import { decideTable } from './decide.js';
import { cups, placing } from './placings.js';

// A small run of what tests/scripts/simulate.ts does at length (fixtures/simulations/verdicts.json).
const TABLES = 60;
const LABELS = ['A', 'B', 'C', 'D'];
const OPTIONS = { ...USUAL_PERMUTATIONS, samples: 199, exactWork: 5000 };

/** Verdicts on tables where A is liked `advantage` points more (or nobody knows better, at 0). */
function verdicts(ratios: number, tasters: number, advantage: number) {
  const draw = seededRandom(ratios * 1000 + tasters * 10 + advantage);
  const labels = LABELS.slice(0, ratios);
  return Array.from({ length: TABLES }, () => {
    const placings = Array.from({ length: tasters }, (_, taster) =>
      placing(`t${taster}`, '', {
        liking: Object.fromEntries(
          // The sum of three draws: 1 to 7, mostly 3 to 5.
          labels.map((cup) => [cup, 1 + draw(3) + draw(3) + draw(3) + (cup === 'A' ? advantage : 0)]),
        ),
      }),
    );
    return decideTable({ ratioCups: cups(...labels), notes: [], placings, permutations: OPTIONS });
  });
}

describe('simulated tables', () => {
  test.each([
    [2, 12],
    [2, 24],
    [4, 12],
    [4, 24],
  ])('with no best of %i ratios, %i tasters make one clear at most 5 times in 100', (ratios, tasters) => {
    const clear = verdicts(ratios, tasters, 0).filter(({ verdict }) => verdict === 'clear').length;
    // More than this many would come from a true 5 % once in 10,000 runs.
    expect(binomialUpperTail(clear, TABLES, [1, 20])).toBeGreaterThan(1e-4);
  });

  test.each([
    [2, 12],
    [4, 24],
  ])(
    'with one best of %i ratios by two points, %i tasters find it and never name another clear',
    (ratios, tasters) => {
      const clear = verdicts(ratios, tasters, 2).filter(({ verdict }) => verdict === 'clear');
      expect(clear.length).toBeGreaterThan(TABLES / 2);
      expect(clear.every(({ winner }) => winner === 'A')).toBe(true);
    },
  );
});
