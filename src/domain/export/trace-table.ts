import type { TableResult } from '../record/table-result.js';
import { cupContents, type TableSetting } from '../record/table-setting.js';
import { cupName, tastingName } from '../record/tasting.js';
import type { BlendTrace } from '../trace/trace.js';
import { type Cell, columns, type ExportTable, rounded } from './export-table.js';

const TRACE_COLUMNS = columns(
  ['tasting', 'the tasting, like T4'],
  ['cup', 'the blend traced: the winner’s cup, or the blend as it stands while there is none'],
  ['holds', 'what is in it'],
  ['level', 'attribute, or family: everyone who found anything in it'],
  ['name', 'the attribute or family'],
  [
    'status',
    'carried, quieted, lifted or new in the blend; within chance where there are too few words to say',
  ],
  ['brought_by', 'the components that bring at least half of what is expected, the largest first'],
  ['tasters', 'distinct tasters who find it in the blend'],
  ['noted', 'distinct tasters who noted the blend'],
  ['observed', 'tasters divided by noted, 0 to 1'],
  ['expected', 'the components’ shares, each weighed by its part of the blend (our own rule), 0 to 1'],
  ['difference', 'observed less expected'],
  ['difference_low', 'lower end of the difference’s 95 % interval (Zou, Huang and Zhang 2009)'],
  ['difference_high', 'upper end of it'],
);

/** Where each attribute of the blend comes from, with the interval that its status rests on. */
export function traceExport(setting: TableSetting, { trace }: TableResult): ExportTable {
  const blend = setting.cups.find((cup) => String(cup.id) === trace?.blend);
  if (!trace || !blend) return { name: 'trace', columns: TRACE_COLUMNS, rows: [] };
  const start = [tastingName(setting.tasting), cupName(blend), cupContents(blend, setting)];
  const contents = new Map(setting.cups.map((cup) => [String(cup.id), cupContents(cup, setting)]));
  const rowsAt = (level: string, traces: BlendTrace['attributes']): readonly (readonly Cell[])[] =>
    traces.map(({ attribute, status, carriedBy, blend: found, observed, expected, difference, interval }) => [
      ...start,
      level,
      attribute,
      status,
      carriedBy.map((cup) => contents.get(cup) ?? cup).join(', ') || null,
      found.tasters,
      found.noted,
      ...[observed, expected, difference, ...interval].map((share) => rounded(share, 4)),
    ]);
  return {
    name: 'trace',
    columns: TRACE_COLUMNS,
    rows: [...rowsAt('attribute', trace.attributes), ...rowsAt('family', trace.families)],
  };
}
