import { midranks } from '../../../src/domain/stats/friedman.js';
import { weightedSums } from '../../../src/domain/stats/skillings-mack.js';
import { countRanks } from '../../../src/domain/verdict/rank-table.js';

/** Every order of the numbers 1..k. */
export function rankings(k: number): readonly (readonly number[])[] {
  if (k === 0) return [[]];
  return rankings(k - 1).flatMap((rest) =>
    Array.from({ length: k }, (_, at) => [...rest.slice(0, at), k, ...rest.slice(at)]),
  );
}

/** Untied rankings by `n` judges whose columns add to `sums`: swaps ranks within rows until they do. */
export function rowsWithRankSums(sums: readonly number[], n: number): readonly (readonly number[])[] {
  const k = sums.length;
  const all = rankings(k);
  const rows = Array.from({ length: n }, (_, row) => [...(all[row % all.length] ?? [])]);
  const total = (column: number) => rows.reduce((sum, row) => sum + (row[column] ?? 0), 0);
  for (let swaps = 0; swaps < 1000; swaps += 1) {
    const gaps = sums.map((sum, column) => sum - total(column));
    const up = gaps.indexOf(Math.max(...gaps));
    const down = gaps.indexOf(Math.min(...gaps));
    if (up === down || gaps[up] === 0) return rows;
    const most = Math.min(gaps[up] ?? 0, -(gaps[down] ?? 0));
    const row = rows.find((ranks) => {
      const step = (ranks[down] ?? 0) - (ranks[up] ?? 0);
      return step > 0 && step <= most;
    });
    if (row === undefined) break;
    const kept = row[up] ?? 0;
    row[up] = row[down] ?? 0;
    row[down] = kept;
  }
  throw new Error('no such rows found');
}

/** Some table of n untied rankings of k cups with the given Friedman statistic. */
export function tableWithStatistic(n: number, k: number, chi2: number): readonly (readonly number[])[] {
  const all = rankings(k);
  const search = (rows: readonly (readonly number[])[]): readonly (readonly number[])[] | null => {
    if (rows.length === n) {
      const squares = Array.from(
        { length: k },
        (_, c) => rows.reduce((sum, row) => sum + (row[c] ?? 0), 0) ** 2,
      );
      const statistic = (12 * squares.reduce((a, b) => a + b, 0)) / (n * k * (k + 1)) - 3 * n * (k + 1);
      return Math.abs(statistic - chi2) < 1e-9 ? rows : null;
    }
    for (const row of all) {
      const found = search([...rows, row]);
      if (found !== null) return found;
    }
    return null;
  };
  return search([]) ?? [];
}

/** Skillings–Mack's weighted rank sums of the cups, from one row per taster, lower is better, null is missing. */
export function weightedRankSums(rows: readonly (readonly (number | null)[])[]): readonly number[] {
  const ranked = rows.map((row) => {
    const ranks = [...midranks(row.filter((value) => value !== null))];
    return row.map((value) => (value === null ? null : (ranks.shift() ?? null)));
  });
  const cups = rows[0]?.length ?? 0;
  return weightedSums(countRanks(ranked, cups).doubled, cups);
}
