import type { UnitSystem } from '../../domain/measure/weight.js';
import type { TableSheet } from '../../domain/table/table-sheet.js';
import { drawHostPage } from './host-page.js';
import { closeSheet, openSheet, type SheetPage } from './sheet-page.js';
import { shortNames } from './short-names.js';
import { drawOrdersPage, drawTablePage } from './table-page.js';

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
  const whole: Draw = (page) => drawTablePage(page, short, true);
  const host: Draw = (page) => drawHostPage(page, short, unitSystem);
  const apart: readonly Draw[] = [
    (page) => drawTablePage(page, short, false),
    (page) => drawOrdersPage(page, short),
  ];
  const first = largestType(whole) === null ? apart : [whole];
  const [opening, ...more] = [...first, host].map((draw) => ({
    draw,
    scale: largestType(draw) ?? LAST_SCALE,
  }));
  const page = openSheet(title, madeAt, opening?.scale);
  opening?.draw(page);
  for (const { draw, scale } of more) {
    page.doc.addPage();
    draw({ ...page, scale });
  }
  return closeSheet(page);
}

/** The largest type in which a page fits, found by drawing it: each try is a few milliseconds. */
function largestType(draw: Draw): number | null {
  return TYPE_SCALES.find((scale) => draw(openSheet('', new Date(0), scale))) ?? null;
}
