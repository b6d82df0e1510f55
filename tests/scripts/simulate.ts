import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { friedman } from '../../src/domain/stats/friedman.js';
import { USUAL_PERMUTATIONS } from '../../src/domain/stats/p-values.js';
import { seededRandom } from '../../src/domain/stats/seeded-random.js';
import type { Placing } from '../../src/domain/tally/counted.js';
import { rankTable } from '../../src/domain/verdict/rank-table.js';
import { tasterRanks } from '../../src/domain/verdict/taster-ranks.js';
import { decideWinner } from '../../src/domain/verdict/verdict.js';

/**
 * Simulates tables with a known best ratio, and with none, and counts what the verdict says of them:
 *   npm run simulate -- --tables 1000 --out fixtures/simulations/verdicts.json
 * Prints the table for the docs as markdown. The same seed gives the same figures.
 */
const { values } = parseArgs({
  options: {
    tables: { type: 'string', default: '1000' },
    seed: { type: 'string', default: '2026' },
    out: { type: 'string' },
  },
});
const TABLES = Number(values.tables);
const SEED = Number(values.seed);

const TASTERS = [6, 12, 24, 48] as const;
const RATIOS = [2, 4, 6] as const;
/** How much better the best ratio is, in standard deviations of one taster's liking of one cup. */
const ADVANTAGES = [0, 0.5, 1, 1.5] as const;
/** Fewer arrangements than a real table gets, so that thousands of tables take minutes. */
const PERMUTATIONS = { ...USUAL_PERMUTATIONS, samples: 999, exactWork: 20_000 };
const ALPHAS = [0.01, 0.05, 0.2] as const;
const NULL_TASTERS = [4, 6, 9, 12, 20, 40] as const;
const NULL_RATIOS = [2, 3, 4, 5, 6] as const;

type Cell = {
  readonly ratios: number;
  readonly tasters: number;
  readonly advantage: number;
  readonly tables: number;
  /** `clear` for the ratio that is best, `clear` for another, neither */
  right: number;
  wrong: number;
  withheld: number;
  /** of those withheld: `leaning` towards the best, towards another */
  leaningRight: number;
  leaningWrong: number;
};

/** Standard normal draws (Box & Muller, 1958). */
function normalDraws(seed: number): () => number {
  const drawBelow = seededRandom(seed);
  const uniform = () => (drawBelow(2 ** 30) + 0.5) / 2 ** 30;
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** Likings from 1 to 9, 5 and 1.5 points of spread, the first ratio better by the advantage: ties happen. */
function likings(normal: () => number, tasters: number, ratios: number, advantage: number) {
  return Array.from({ length: tasters }, () =>
    Array.from({ length: ratios }, (_, ratio) => {
      const points = Math.round(5 + 1.5 * (normal() + (ratio === 0 ? advantage : 0)));
      return Math.min(9, Math.max(1, points));
    }),
  );
}

function placingsOf(table: readonly (readonly number[])[]): readonly Placing[] {
  return table.map((row, taster) => ({
    taster: `t${taster}`,
    at: 0,
    id: `m${taster}`,
    order: null,
    liking: Object.fromEntries(row.map((points, ratio) => [`r${ratio}`, points])),
  }));
}

function simulateCell(ratios: number, tasters: number, advantage: number): Cell {
  const cell = { ratios, tasters, advantage, tables: TABLES, right: 0, wrong: 0, withheld: 0 };
  const counted: Cell = { ...cell, leaningRight: 0, leaningWrong: 0 };
  const normal = normalDraws(SEED + ratios * 10_000 + tasters * 100 + advantage * 10);
  const ratioCups = Array.from({ length: ratios }, (_, ratio) => ({ id: `r${ratio}`, costPerKgCents: null }));
  const ids = ratioCups.map(({ id }) => id);
  for (let drawn = 0; drawn < TABLES; drawn += 1) {
    const placings = placingsOf(likings(normal, tasters, ratios, advantage));
    const table = rankTable(ids, tasterRanks(ids, [], placings));
    const { winner, verdict } = decideWinner({ ratioCups, table, permutations: PERMUTATIONS });
    const isBest = winner === 'r0' && advantage > 0;
    if (verdict === 'clear') counted[isBest ? 'right' : 'wrong'] += 1;
    else counted.withheld += 1;
    if (verdict === 'leaning') counted[isBest ? 'leaningRight' : 'leaningWrong'] += 1;
  }
  return counted;
}

/** How often p ≤ alpha when there is nothing to find, with and without ties. */
function simulateNull(ratios: number, tasters: number, ties: boolean) {
  const normal = normalDraws(SEED + ratios * 1000 + tasters * 10 + (ties ? 1 : 0));
  const hits = ALPHAS.map(() => 0);
  for (let table = 0; table < TABLES; table += 1) {
    const rows = ties
      ? likings(normal, tasters, ratios, 0)
      : Array.from({ length: tasters }, () => Array.from({ length: ratios }, normal));
    const { p } = friedman(rows, PERMUTATIONS);
    ALPHAS.forEach((alpha, index) => {
      if (p <= alpha) hits[index] = (hits[index] ?? 0) + 1;
    });
  }
  return { ratios, tasters, ties, tables: TABLES, rates: hits.map((count) => count / TABLES) };
}

function percent(count: number, of: number): string {
  return `${((100 * count) / of).toFixed(1)} %`;
}

function markdown(cells: readonly Cell[]): string {
  const head = [
    '| ratios | advantage | tasters | right | wrong | withheld | of these leaning right | leaning wrong |',
    '| --- | --- | --- | --- | --- | --- | --- | --- |',
  ];
  const rows = cells.map(
    (cell) =>
      `| ${cell.ratios} | ${cell.advantage === 0 ? 'none' : `${cell.advantage} SD`} | ${cell.tasters} | ` +
      [cell.right, cell.wrong, cell.withheld, cell.leaningRight, cell.leaningWrong]
        .map((count) => percent(count, cell.tables))
        .join(' | ') +
      ' |',
  );
  return [...head, ...rows].join('\n');
}

const cells = RATIOS.flatMap((ratios) =>
  ADVANTAGES.flatMap((advantage) => TASTERS.map((tasters) => simulateCell(ratios, tasters, advantage))),
);
const underNull = NULL_RATIOS.flatMap((ratios) =>
  NULL_TASTERS.flatMap((tasters) => [false, true].map((ties) => simulateNull(ratios, tasters, ties))),
);
console.log(markdown(cells));
const worst = ALPHAS.map((alpha, index) => {
  const rate = Math.max(...underNull.map(({ rates }) => rates[index] ?? 0));
  const mean = underNull.reduce((sum, { rates }) => sum + (rates[index] ?? 0), 0) / underNull.length;
  return `p ≤ ${alpha}: ${percent(mean, 1)} of tables on average, ${percent(rate, 1)} at most in one of ${underNull.length} cells`;
});
console.log(`\n${worst.join('\n')}`);
if (values.out !== undefined) {
  writeFileSync(
    values.out,
    `${JSON.stringify({ seed: SEED, permutations: PERMUTATIONS, cells, alphas: ALPHAS, underNull }, null, 1)}\n`,
  );
}
