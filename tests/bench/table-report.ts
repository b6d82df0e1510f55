import { times } from './figures.js';
import type { TableTiming } from './table-bench.js';

/** The figures of large tables, a line each. */
export function tableLines(tables: readonly TableTiming[]): readonly (readonly string[])[] {
  if (tables.length === 0) return [];
  return [
    [
      'tasters',
      'notes',
      'words',
      'tally',
      'trace',
      'verdict',
      'digest',
      'all',
      'first',
      'floor',
      '× floor',
      'µs a note',
    ],
    ...tables.map((table) => [
      ...[table.tasters, table.notes, table.mentions].map(String),
      ...[table.tally, table.trace, table.verdict, table.digest].map(({ median }) => median.toFixed(1)),
      `${table.whole.median.toFixed(1)} (${table.whole.low.toFixed(1)}–${table.whole.high.toFixed(1)})`,
      ...[table.first, table.floor].map(({ median }) => median.toFixed(1)),
      times(table.whole, table.floor).toFixed(1),
      microsecondsANote(table).toFixed(1),
    ]),
  ];
}

function microsecondsANote({ whole, notes }: TableTiming): number {
  return (1000 * whole.median) / notes;
}

/** How the cost of a note grows: beside 200 tasters, where the fixed part of the work no longer shows much. */
export function growthLine(tables: readonly TableTiming[]): readonly string[] {
  const base = tables.find(({ tasters }) => tasters === 200);
  const largest = tables.at(-1);
  if (base === undefined || largest === undefined || largest === base) return [];
  const ratio = microsecondsANote(largest) / microsecondsANote(base);
  return [`A note costs ${ratio.toFixed(2)} × at ${largest.tasters} tasters what it costs at 200.`];
}
