import type { TableSheet } from '../../domain/table/table-sheet.js';
import { type Column, frame, grid, heading, heightOf, putText, rule, type SheetPage } from './sheet-page.js';

const MOST_IN_A_ROW = 6;
const GAP = 6;
/** Read standing up, at arm's length. */
const TEXT = 10;

/**
 * Page one, to lay on the table: cups, times, orders and cautions; codes only when blind.
 *
 * @returns whether all of it fits the page
 */
export function drawTablePage(page: SheetPage, sheet: TableSheet, withOrders: boolean): boolean {
  let y = drawTitle(page, sheet);
  y = drawCups(page, sheet, y);
  const middle = page.left + page.width * 0.6;
  const clock = drawTimes(page, sheet, y, page.left, middle - 8);
  const notes = drawHowTo(page, sheet, y, middle + 8);
  y = Math.max(clock, notes) + 6;
  if (withOrders) y = drawOrders(page, sheet, y);
  return drawCautions(page, sheet, y + 4) <= page.bottom + 0.5;
}

/** The orders on a page of their own, for a group too large for page one; whether all of them fit. */
export function drawOrdersPage(page: SheetPage, sheet: TableSheet): boolean {
  return drawOrders(page, sheet, drawTitle(page, sheet)) <= page.bottom;
}

function drawTitle(page: SheetPage, sheet: TableSheet): number {
  const { width } = page;
  let y = page.left;
  y += putText(page, `${sheet.blendName} · ${sheet.name}`, page.left, y, width, { size: 20, bold: true });
  const tables = sheet.tables > 1 ? ` · ${sheet.tables} tables` : '';
  const line = `${sheet.when} · ${sheet.format} · host ${sheet.host}${tables}${sheet.blind ? ' · blind' : ''}`;
  y += putText(page, line, page.left, y + 2, width, { size: 10, pale: true }) + 8;
  rule(page, y);
  return y + 8;
}

function drawCups(page: SheetPage, sheet: TableSheet, from: number): number {
  const inRow = Math.min(MOST_IN_A_ROW, Math.max(1, sheet.cups.length));
  const width = (page.width - GAP * (inRow - 1)) / inRow;
  let y = from;
  for (let first = 0; first < sheet.cups.length; first += inRow) {
    const row = sheet.cups.slice(first, first + inRow);
    const lines = row.map((cup) => (sheet.blind ? '' : onLines(cup.what)));
    const height =
      34 +
      Math.max(...lines.map((text) => (text === '' ? 0 : heightOf(page, text, width - 8, { size: 8 }) + 4)));
    row.forEach((cup, index) => {
      const x = page.left + index * (width + GAP);
      frame(page, x, y, width, height);
      putText(page, cup.name, x, y + 6, width, { size: 18, bold: true, align: 'center' });
      if (!sheet.blind)
        putText(page, onLines(cup.what), x + 4, y + 31, width - 8, { size: 8, align: 'center' });
    });
    y += height + GAP;
  }
  return y + 4;
}

function drawTimes(page: SheetPage, sheet: TableSheet, from: number, left: number, right: number): number {
  let y = heading(page, 'Times', from, left, right);
  for (const moment of sheet.timeline) {
    putText(page, moment.clock, left, y, 42, { size: TEXT, bold: true });
    y += putText(page, moment.what, left + 44, y, right - left - 44, { size: TEXT }) + 4;
  }
  return y;
}

function drawHowTo(page: SheetPage, sheet: TableSheet, from: number, left: number): number {
  let y = heading(page, 'How', from, left);
  const width = page.right - left;
  const steps = [
    'Taste in your own order, below.',
    `Reply under each cup’s message, or name the ${sheet.blind ? 'code' : 'letter'}: “${sheet.cups[0]?.name ?? 'A'}: lemon, black tea, light body”.`,
    'Your own words. Write before anyone talks.',
    'Taste each cup hot, warm and cool; edit your note when it changes.',
    'At the end, place the ratios: best first.',
  ];
  for (const step of steps) y += putText(page, step, left, y, width, { size: TEXT }) + 4;
  return y;
}

function drawOrders(page: SheetPage, sheet: TableSheet, from: number): number {
  if (sheet.orders.length === 0) return from;
  let y = heading(page, 'Orders', from);
  // Tasters who share an order share a row, so that a large group still fits the page.
  const rows = new Map<string, { readonly tasters: readonly string[]; readonly cups: readonly string[] }>();
  for (const { taster, table, cups } of sheet.orders) {
    const key = `${table} ${cups.join(' ')}`;
    const place = sheet.tables > 1 ? `Table ${table}: ` : '';
    const tasters = rows.get(key)?.tasters ?? [];
    rows.set(key, { tasters: [...tasters, tasters.length === 0 ? `${place}${taster}` : taster], cups });
  }
  const columns: readonly Column[] = [
    { title: 'Taster', share: 3, align: 'left' },
    ...sheet.cups.map((_, index) => ({ title: String(index + 1), share: 1, align: 'center' as const })),
  ];
  const body = [...rows.values()].map((row) => [row.tasters.join(', '), ...row.cups]);
  y = grid(page, columns, body, y, 11);
  y += putText(page, sheet.orderNote, page.left, y, page.width, { size: 8, pale: true });
  return y;
}

function drawCautions(page: SheetPage, sheet: TableSheet, from: number): number {
  const width = page.width - 16;
  const size = 9;
  const height = sheet.cautions.reduce(
    (sum, caution) => sum + heightOf(page, caution, width, { size }) + 2,
    10,
  );
  const top = Math.max(from, page.bottom - height);
  frame(page, page.left, top, page.width, height);
  let y = top + 6;
  for (const caution of sheet.cautions) y += putText(page, caution, page.left + 8, y, width, { size }) + 2;
  return top + height;
}

/** One coffee to a line, its share never parted from the sign. */
function onLines(what: string): string {
  return what.replaceAll(', ', '\n').replaceAll(' %', '\u00a0%');
}
