import { describe, expect, test } from 'vitest';
import { binomialUpperTail } from '../../../src/domain/stats/binomial.js';
import { cochranQ } from '../../../src/domain/stats/cochran-q.js';
import { friedman } from '../../../src/domain/stats/friedman.js';
import { USUAL_PERMUTATIONS } from '../../../src/domain/stats/permutation-options.js';
import { seededRandom } from '../../../src/domain/stats/seeded-random.js';
import { skillingsMack } from '../../../src/domain/stats/skillings-mack.js';

// Tables in which nothing differs. A larger run is in fixtures/simulations (src/cli/simulate.ts).
const ALPHAS = [
  [1, 100],
  [1, 20],
  [1, 5],
] as const;
const TABLES = 25;
const OPTIONS = { ...USUAL_PERMUTATIONS, samples: 99, exactWork: 4000 };
const SIZES = [4, 6, 9, 14, 25, 40].flatMap((tasters) => [2, 3, 4, 5, 6].map((cups) => ({ tasters, cups })));

type Draw = (below: number) => number;

function table(tasters: number, cups: number, cell: (draw: Draw) => number | null, draw: Draw) {
  return Array.from({ length: tasters }, () => Array.from({ length: cups }, () => cell(draw)));
}

/** More tables with p ≤ alpha than chance allows (once in 100,000) would show that p-values are too small. */
function expectValid(pValues: readonly number[]): void {
  for (const [a, b] of ALPHAS) {
    const hits = pValues.filter((p) => p <= a / b).length;
    expect(binomialUpperTail(hits, pValues.length, [a, b])).toBeGreaterThan(1e-5);
  }
}

function perSize(seed: number, pOf: (tasters: number, cups: number, draw: Draw) => number) {
  const draw = seededRandom(seed);
  return SIZES.map(({ tasters, cups }) => Array.from({ length: TABLES }, () => pOf(tasters, cups, draw)));
}

function complete(rows: readonly (readonly (number | null)[])[]) {
  return rows.map((row) => row.map((value) => value ?? 0));
}

describe('when nothing differs, P(p ≤ alpha) is at most alpha, for 4 to 40 tasters and 2 to 6 cups', () => {
  const cases = [
    { name: 'Friedman without ties', cell: (draw: Draw) => draw(1_000_000), test: 'friedman' },
    { name: 'Friedman with many ties', cell: (draw: Draw) => draw(4), test: 'friedman' },
    {
      name: 'Skillings–Mack with gaps and ties',
      cell: (draw: Draw) => (draw(5) === 0 ? null : draw(6)),
      test: 'sm',
    },
    { name: "Cochran's Q of a rare attribute", cell: (draw: Draw) => (draw(5) === 0 ? 1 : 0), test: 'q' },
    {
      name: "Cochran's Q with gaps",
      cell: (draw: Draw) => (draw(6) === 0 ? null : draw(2)),
      test: 'q',
    },
  ] as const;
  cases.forEach(({ name, cell, test: kind }, index) => {
    test(name, () => {
      const bySize = perSize(index + 1, (tasters, cups, draw) => {
        const rows = table(tasters, cups, cell, draw);
        if (kind === 'friedman') return friedman(complete(rows), OPTIONS).p;
        return kind === 'sm'
          ? skillingsMack(rows, OPTIONS).p
          : cochranQ(rows, { ...OPTIONS, enoughExtreme: 10 }).p;
      });
      expectValid(bySize.flat());
      for (const pValues of bySize) expectValid(pValues);
    });
  });
});
