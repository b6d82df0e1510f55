import type { Acknowledged } from './acknowledge.js';
import { type Figure, times } from './figures.js';
import type { Results } from './measure.js';
import { growthLine, tableLines } from './table-report.js';

/** The page `docs/benchmark.md`. */
export function asPage(results: Results): string {
  return `# Benchmark

Written by \`npm run bench\`. Each figure is the median of its rounds, in brackets the lowest and the highest. The floor of an
acknowledgement is a bare Bolt handler with the signature checked that makes one insert (WAL, \`synchronous = FULL\`) and
acknowledges; there are two equal floors, and how far they lie apart is noise. The floor of counting from receipt is as many such
inserts in a plain loop; of start-up, importing Bolt and opening the same file. Slack sends an app 8 events a second at most.

\`\`\`text
${asTable(results)}
\`\`\`
`;
}

/** The results as plain tables, each figure as its median and, in brackets, how far its rounds lay apart. */
export function asTable(results: Results): string {
  return [
    `Machine: ${results.machine}, Node ${results.node}; load ${results.loadAtStart.toFixed(1)} at the start, ${results.loadAtEnd.toFixed(1)} at the end.`,
    ...section('Acknowledgement (ms)', acknowledged(results)),
    ...section(
      `A burst of ${results.counted[0]?.notes ?? 0} notes until all are counted (ms)`,
      counted(results),
    ),
    ...section('Start-up (ms)', started(results)),
    ...section('Memory (MB: resident; heap)', kept(results)),
    ...section(
      'Reading notes, notes a second of processor time',
      results.reader.map(({ notes, notesPerSecond }) => [notes, String(notesPerSecond)]),
    ),
    ...section(
      'Hostile texts (ms by length)',
      results.hostile.map(({ text, msPerKilobytes }) => [
        text,
        Object.entries(msPerKilobytes)
          .map(([size, ms]) => `${size}: ${ms}`)
          .join(', '),
      ]),
    ),
    ...section(
      'Twelve cups from stored notes to the digest, beside one pass in SQL (ms of processor time)',
      tableLines(results.tables),
    ),
    ...growthLine(results.tables),
  ].join('\n');
}

function section(title: string, rows: readonly (readonly string[])[]): readonly string[] {
  if (rows.length === 0) return [];
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return [
    '',
    title,
    ...rows.map((row) =>
      row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join('  ')
        .trimEnd(),
    ),
  ];
}

function shown({ median, low, high }: Figure, digits = 2): string {
  return `${median.toFixed(digits)} (${low.toFixed(digits)}–${high.toFixed(digits)})`;
}

function acknowledged({ acknowledge }: Results): readonly (readonly string[])[] {
  if (acknowledge.length === 0) return [];
  const head = ['request', 'load', 'door', 'p50', 'p99', 'p99 × floor', 'p99 × empty'];
  return [
    head,
    ...acknowledge.map((one) => {
      const same = acknowledge.filter((other) => other.request === one.request && other.pace === one.pace);
      const [empty, large] = same.filter(({ isFloor }) => !isFloor);
      return [
        ...[one.request, one.pace, one.door, shown(one.p50), shown(one.p99)],
        timesAll(
          one,
          same.filter(({ isFloor }) => isFloor),
        ),
        one === large && empty ? times(one.p99, empty.p99).toFixed(2) : '',
      ];
    }),
  ];
}

/** How many times the floors' p99 one is: of a floor itself, how far a door lies from one that is equal to it. */
function timesAll(one: Acknowledged, floors: readonly Acknowledged[]): string {
  const medians = floors.map(({ p99 }) => p99.median);
  return (one.p99.median / (medians.reduce((sum, median) => sum + median, 0) / medians.length)).toFixed(2);
}

function counted({ counted: rates }: Results): readonly (readonly string[])[] {
  return rates.map((one) => {
    const [floor, empty] = rates.filter((other) => other.from === one.from);
    return [
      one.from === 'receipt' ? 'from receipt' : 'through the door',
      one.door,
      shown(one.ms, 0),
      floor && one !== floor ? `${times(one.ms, floor.ms).toFixed(2)} × the floor` : '',
      empty && one !== floor && one !== empty
        ? `${times(one.ms, empty.ms).toFixed(2)} × the empty database`
        : '',
    ];
  });
}

function started({ startUp }: Results): readonly (readonly string[])[] {
  return startUp.map(({ what, ms }) => [what, shown(ms, 0)]);
}

function kept({ memory }: Results): readonly (readonly string[])[] {
  return memory.flatMap(({ door, atStart, atRest, afterLoad, events }) =>
    (
      [
        ['just started', atStart],
        ['at rest', atRest],
        [`after ${events} notes`, afterLoad],
      ] as const
    ).map(([when, { rssMb, heapMb }]) => [door, when, `${rssMb.toFixed(1)}; ${heapMb.toFixed(1)}`]),
  );
}
