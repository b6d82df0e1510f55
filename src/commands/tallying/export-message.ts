import Papa from 'papaparse';
import { asRecords, type Cell, type ExportTable } from '../../domain/export/export-table.js';
import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import type { Notice, Place } from '../../kit/notice.js';

/** What a spreadsheet would take for a formula when a cell begins with it, full-width forms included. */
const FORMULA = /^[=+\-@\t\r\n＝＋－＠]/u;
/**
 * The same within a text: where the list separator is a semicolon, a spreadsheet cuts a comma-separated line there and
 * at line breaks, quoted or not, and what follows is a cell of its own.
 */
const FORMULA_AFTER_CUT = /([;\t\r\n]\s*)(?=[=+\-@＝＋－＠])/gu;
const BYTE_ORDER_MARK = '\uFEFF';

const ABOUT = new Map<ExportTable['name'], string>([
  ['tally', 'per cup and attribute, how many tasters find it'],
  ['notes', 'every mention in its own words, tasters as numbers'],
  ['placings', 'each taster’s ranks and likings, tasters as numbers'],
  ['standings', 'how the ratios stand, with every figure behind the verdict'],
  ['trace', 'where each flavour of the blend comes from, expected beside observed'],
]);

/** The export's files, shared once: in the table's thread, or with the host alone. */
export function exportNotices(
  tasting: Pick<Tasting, 'id' | 'number' | 'host'>,
  asked: { readonly id: number; readonly to: 'host' | 'thread' },
  tables: readonly ExportTable[],
): readonly Notice[] {
  const name = tastingName(tasting);
  const place: Place =
    asked.to === 'host'
      ? { kind: 'direct', person: tasting.host }
      : { kind: 'thread', under: `table:${tasting.id}` };
  const file = (kind: string, ext: string, comment: string, text: string): Notice => ({
    kind: 'file',
    key: `export:${tasting.id}:${asked.id}:${kind}-${ext}`,
    place,
    file: {
      name: `${name}-${kind}.${ext}`,
      title: `${name} ${kind} (${ext.toUpperCase()})`,
      comment,
      content: { kind: 'text', text },
    },
  });
  return [
    ...tables.map((table) =>
      file(table.name, 'csv', `${name}, ${table.name}: ${ABOUT.get(table.name) ?? ''}.`, csvOf(table)),
    ),
    file('all', 'json', `${name}, all of it as JSON, with what each column means.`, jsonOf(name, tables)),
  ];
}

/**
 * A table as CSV that a spreadsheet opens safely: comma-separated lines ended as RFC 4180 says, UTF-8 with its
 * mark so that accents survive, and an apostrophe before text that would be taken for a formula (OWASP, "CSV
 * Injection").
 */
export function csvOf({ columns, rows }: ExportTable): string {
  const lines = [columns.map(({ name }) => name), ...rows.map((row) => row.map(withoutInnerFormula))];
  const csv = Papa.unparse(lines, { newline: '\r\n', escapeFormulae: FORMULA });
  return `${BYTE_ORDER_MARK}${csv}\r\n`;
}

function withoutInnerFormula(cell: Cell): Cell {
  return typeof cell === 'string' ? cell.replace(FORMULA_AFTER_CUT, "$1'") : cell;
}

/** All tables as one JSON document: rows by column name, and what the columns mean. */
export function jsonOf(tasting: string, tables: readonly ExportTable[]): string {
  const rows = Object.fromEntries(tables.map((table) => [table.name, asRecords(table)]));
  const columns = Object.fromEntries(
    tables.map((table) => [
      table.name,
      Object.fromEntries(table.columns.map(({ name, means }) => [name, means])),
    ]),
  );
  return `${JSON.stringify({ tasting, ...rows, columns }, null, 1)}\n`;
}
