import type { UnitSystem } from '../domain/measure/format-weight.js';
import type { TableSheet } from '../domain/table/table-sheet.js';
import { drawHostPage } from './host-page.js';
import { closeSheet, openSheet } from './sheet-page.js';
import { drawTablePage } from './table-page.js';

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
  const page = openSheet(`${sheet.blendName} ${sheet.name}: table sheet`, madeAt);
  drawTablePage(page, sheet);
  page.doc.addPage();
  drawHostPage(page, sheet, unitSystem);
  return closeSheet(page);
}
