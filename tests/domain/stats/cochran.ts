import { cochranQ, cochranTable } from '../../../src/domain/stats/cochran-q.js';
import type { PermutationOptions } from '../../../src/domain/stats/p-values.js';

/** Cochran's Q from a table of one row per taster: 1 found, 0 not found, null did not note the cup. */
export function cochranOf(rows: readonly (readonly (number | null)[])[], options?: PermutationOptions) {
  const found = rows.map((row) => row.flatMap((value, column) => (value === 1 ? [column] : [])));
  const noted = rows.map((row) => row.map((value) => (value === null ? null : 0)));
  return cochranQ(
    found.map((columns) => (columns.length === 0 ? null : columns)),
    cochranTable(noted),
    options,
  );
}
