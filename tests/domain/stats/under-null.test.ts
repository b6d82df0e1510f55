import { describe, expect, test } from 'vitest';
import { cochranQ } from '../../../src/domain/stats/cochran-q.js';
import { friedman } from '../../../src/domain/stats/friedman.js';
import { USUAL_PERMUTATIONS } from '../../../src/domain/stats/p-values.js';
import { seededRandom } from '../../../src/domain/stats/seeded-random.js';
import { skillingsMack } from '../../../src/domain/stats/skillings-mack.js';
import { decideTable } from '../verdict/decide.js';
import { cups as cupsOf } from '../verdict/placings.js';
import { binomialUpperTail } from './binomial.js';

// Tables in which nothing differs, of every size from 4 to 40 tasters and from 2 to 6 cups. Tests whose every outcome
// can be listed are in exact-null.test.ts; a larger run is in fixtures/simulations (tests/scripts/simulate.ts).
const ALPHAS = [
  [1, 100],
  [1, 20],
  [1, 5],
] as const;
const TABLES = 6;
/** A few seconds of work, which a busy machine may stretch. */
const PATIENCE = { timeout: 120_000 };
const OPTIONS = { ...USUAL_PERMUTATIONS, samples: 99, exactWork: 1000 };
const CUPS = [2, 3, 4, 5, 6];
const TASTERS = Array.from({ length: 37 }, (_, index) => 4 + index);

type Draw = (below: number) => number;
type Rows = readonly (readonly (number | null)[])[];

function table(tasters: number, cups: number, cell: (draw: Draw) => number | null, draw: Draw): Rows {
  return Array.from({ length: tasters }, () => Array.from({ length: cups }, () => cell(draw)));
}

function complete(rows: Rows) {
  return rows.map((row) => row.map((value) => value ?? 0));
}

/** The p-value of the verdict, from likings of 1 to 9 of the cups that each taster rated. */
function decidedP(rows: Rows): number {
  const ids = (rows[0] ?? []).map((_, cup) => `c${cup}`);
  const placings = rows.map((row, taster) => ({
    taster: `t${taster}`,
    at: 0,
    id: `m${taster}`,
    order: null,
    liking: Object.fromEntries(
      row.flatMap((points, cup) => (points === null ? [] : [[ids[cup] ?? '', points]])),
    ),
  }));
  return decideTable({ ratioCups: cupsOf(...ids), notes: [], placings, permutations: OPTIONS }).p;
}

/** More tables with p ≤ alpha than chance allows (once in 5,000) would show that p-values are too small. */
function expectValid(pValues: readonly number[], what: string): void {
  for (const [a, b] of ALPHAS) {
    const hits = pValues.filter((p) => p <= a / b).length;
    const chance = binomialUpperTail(hits, pValues.length, [a, b]);
    expect(chance, `${what}: ${hits} of ${pValues.length} at ${a / b}`).toBeGreaterThan(2e-4);
  }
}

describe('when nothing differs, P(p ≤ alpha) is at most alpha, for 4 to 40 tasters and 2 to 6 cups', () => {
  const cases: readonly {
    readonly name: string;
    readonly cell: (draw: Draw) => number | null;
    readonly pOf: (rows: Rows) => number;
  }[] = [
    {
      name: 'Friedman without ties',
      cell: (draw) => draw(1_000_000),
      pOf: (rows) => friedman(complete(rows), OPTIONS).p,
    },
    {
      name: 'Friedman with many ties',
      cell: (draw) => draw(4),
      pOf: (rows) => friedman(complete(rows), OPTIONS).p,
    },
    {
      name: 'Skillings–Mack with gaps and ties',
      cell: (draw) => (draw(5) === 0 ? null : draw(6)),
      pOf: (rows) => skillingsMack(rows, OPTIONS).p,
    },
    {
      name: 'Skillings–Mack with half of the placings missing',
      cell: (draw) => (draw(2) === 0 ? null : draw(1_000_000)),
      pOf: (rows) => skillingsMack(rows, OPTIONS).p,
    },
    {
      name: "Cochran's Q of a rare attribute",
      cell: (draw) => (draw(5) === 0 ? 1 : 0),
      pOf: (rows) => cochranQ(rows, { ...OPTIONS, enoughExtreme: 10 }).p,
    },
    {
      name: "Cochran's Q with gaps",
      cell: (draw) => (draw(6) === 0 ? null : draw(2)),
      pOf: (rows) => cochranQ(rows, { ...OPTIONS, enoughExtreme: 10 }).p,
    },
    {
      name: 'the verdict’s own p, from likings with ties, some of them missing',
      cell: (draw) => (draw(8) === 0 ? null : 1 + draw(3) + draw(4) + draw(4)),
      pOf: decidedP,
    },
  ];
  cases.forEach(({ name, cell, pOf }, index) => {
    test(name, PATIENCE, () => {
      const draw = seededRandom(index + 1);
      const bySize = TASTERS.flatMap((tasters) =>
        CUPS.map((cups) => ({
          tasters,
          cups,
          ps: Array.from({ length: TABLES }, () => pOf(table(tasters, cups, cell, draw))),
        })),
      );
      const psWhere = (keep: (size: { readonly tasters: number; readonly cups: number }) => boolean) =>
        bySize.filter(keep).flatMap(({ ps }) => ps);
      expectValid(
        psWhere(() => true),
        'all tables',
      );
      for (const number of CUPS) {
        expectValid(
          psWhere(({ cups }) => cups === number),
          `${number} cups`,
        );
      }
      for (const [from, to] of [
        [4, 8],
        [9, 16],
        [17, 40],
      ] as const) {
        expectValid(
          psWhere(({ tasters }) => tasters >= from && tasters <= to),
          `${from} to ${to} tasters`,
        );
      }
    });
  });
});
