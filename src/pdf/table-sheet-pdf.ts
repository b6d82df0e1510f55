import type { UnitSystem } from '../domain/measure/format-weight.js';
import type { TableSheet } from '../domain/table/table-sheet.js';
import { drawHostPage } from './host-page.js';
import { closeSheet, openSheet } from './sheet-page.js';
import { shortNames } from './short-names.js';
import { drawOrdersPage, drawTablePage } from './table-page.js';

/** From the usual type size down to the smallest that is read without a glass. */
const TYPE_SCALES = [1.1, 1, 0.9, 0.8, 0.7, 0.6];
/** A very large table: the orders get a page between the two. */
const SMALL_SCALES = [1, 0.9, 0.8, 0.7, 0.6, 0.5];
const LAYOUTS = [
  ...TYPE_SCALES.map((scale) => ({ scale, ordersApart: false })),
  ...SMALL_SCALES.map((scale) => ({ scale, ordersApart: true })),
];

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
  // The largest type that fits is found by drawing: each try is a few milliseconds.
  for (const layout of LAYOUTS) {
    const page = openSheet(title, madeAt, layout.scale);
    const fits = [drawTablePage(page, short, !layout.ordersApart)];
    if (layout.ordersApart) {
      page.doc.addPage();
      fits.push(drawOrdersPage(page, short));
    }
    page.doc.addPage();
    fits.push(drawHostPage(page, short, unitSystem));
    if (fits.every((fit) => fit) || layout === LAYOUTS.at(-1)) return closeSheet(page);
  }
  throw new RangeError('There is no type size to print with.');
}
