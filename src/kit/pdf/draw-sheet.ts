import { z } from 'zod';
import type { UnitSystem } from '../../domain/measure/weight.js';
import { TableSheet } from '../../domain/table/table-sheet.js';
import { cut } from '../escape.js';
import { drawHostPage } from './host-page.js';
import { closeSheet, openSheet, type SheetPage } from './sheet-page.js';
import { drawOrdersPage, drawTablePage } from './table-page.js';

/** A sheet as it was stored to be printed: what comes back is checked before it is drawn. */
const PrintedSheet = z.object({
  sheet: TableSheet,
  units: z.enum(['metric', 'pounds']),
  madeAt: z.coerce.date(),
});

/** How a person is called; mentions mean nothing on paper. */
type NameOf = (person: string) => Promise<string>;

/**
 * Draws a stored table sheet as a PDF.
 *
 * @throws ZodError when what was stored is no table sheet
 */
export async function drawSheet(content: unknown, nameOf: NameOf): Promise<Buffer> {
  const { sheet, units, madeAt } = PrintedSheet.parse(content);
  return tableSheetPdf(await named(sheet, nameOf), units, madeAt);
}

async function named(sheet: TableSheet, nameOf: NameOf): Promise<TableSheet> {
  const orders = sheet.orders.map(async (order) => ({
    ...order,
    taster: await withoutMention(order.taster, nameOf),
  }));
  const host = await withoutMention(sheet.host, nameOf);
  return { ...sheet, host, orders: await Promise.all(orders) };
}

async function withoutMention(text: string, nameOf: NameOf): Promise<string> {
  const person = /^<@([A-Z0-9]+)>$/.exec(text)?.[1];
  return person === undefined ? text : nameOf(person);
}

/** From the usual type size down to the smallest that is still read on a table. */
const TYPE_SCALES = [1.1, 1, 0.9, 0.8, 0.7, 0.6];
/** The smallest of all, for what has to be on one page whatever its size. */
const LAST_SCALE = 0.5;

type Draw = (page: SheetPage) => boolean;

/**
 * The table sheet as a two-page A4 PDF. Page one lies on the table and shows codes only when blind; the last
 * page is the host's and names the coffees. Only a group too large for page one has its orders on a third.
 *
 * @param madeAt goes into the document's date, so that the same sheet is the same file
 */
export async function tableSheetPdf(
  sheet: TableSheet,
  unitSystem: UnitSystem,
  madeAt: Date,
): Promise<Buffer> {
  const title = `${sheet.blendName} ${sheet.name}: table sheet`;
  const short = shortNames(sheet);
  const table = (withOrders: boolean) => (page: SheetPage) => drawTablePage(page, short, withOrders);
  const orders: Draw = (page) => drawOrdersPage(page, short);
  const host: Draw = (page) => drawHostPage(page, short, unitSystem);
  const first = largestType(table(true)) === null ? [table(false), orders] : [table(true)];
  const page = openSheet(title, madeAt);
  for (const [index, draw] of [...first, host].entries()) {
    const scale = largestType(draw) ?? LAST_SCALE;
    if (index > 0) page.doc.addPage();
    draw({ ...page, scale });
  }
  return closeSheet(page);
}

/** The largest type in which a page fits, found by drawing it: each try is a few milliseconds. */
function largestType(draw: Draw): number | null {
  return TYPE_SCALES.find((scale) => draw(openSheet('', new Date(0), scale))) ?? null;
}

/** The longest name that a column of the sheet takes without pushing everything else off the page. */
const NAME_LIMIT = 32;
const TITLE_LIMIT = 60;

/** The sheet with names cut to what paper has room for; the letter or code still tells cups apart. */
function shortNames(sheet: TableSheet): TableSheet {
  const names = new Map(sheet.totals.map(({ name }) => [name, cut(name, NAME_LIMIT)]));
  const long = [...names].filter(([name, short]) => name !== short);
  const inText = (text: string) => long.reduce((held, [name, short]) => held.replaceAll(name, short), text);
  return {
    ...sheet,
    blendName: cut(sheet.blendName, TITLE_LIMIT),
    host: cut(sheet.host, NAME_LIMIT),
    cups: sheet.cups.map((cup) => ({ ...cup, what: inText(cup.what) })),
    totals: sheet.totals.map((total) => ({ ...total, name: cut(total.name, NAME_LIMIT) })),
    orders: sheet.orders.map((order) => ({ ...order, taster: cut(order.taster, NAME_LIMIT) })),
    remarks: sheet.remarks.map(inText),
  };
}
