import type { UnitSystem } from '../domain/measure/format-weight.js';
import type { TableSheet } from '../domain/table/table-sheet.js';
import { drawHostPage } from './host-page.js';
import { closeSheet, openSheet } from './sheet-page.js';
import { drawTablePage } from './table-page.js';

/** From the usual type size down to the smallest that can still be read. */
const TYPE_SCALES = [1.1, 1, 0.9, 0.8, 0.7, 0.6];

/**
 * The table sheet as a two-page A4 PDF. Page one lies on the table and shows codes only when blind; page two
 * is the host's and names the coffees.
 *
 * @param madeAt goes into the document's date, so that the same sheet is the same file
 */
export async function tableSheetPdf(
  sheet: TableSheet,
  unitSystem: UnitSystem,
  madeAt: Date,
): Promise<Buffer> {
  const title = `${sheet.blendName} ${sheet.name}: table sheet`;
  // The largest type that fits is found by drawing: each try is a few milliseconds.
  for (const scale of TYPE_SCALES) {
    const page = openSheet(title, madeAt, scale);
    const tableFits = drawTablePage(page, sheet);
    page.doc.addPage();
    const hostFits = drawHostPage(page, sheet, unitSystem);
    if ((tableFits && hostFits) || scale === TYPE_SCALES.at(-1)) return closeSheet(page);
  }
  throw new RangeError('There is no type size to print with.');
}
