import type { TableSheet } from '../../domain/table/table-sheet.js';
import { PrintedSheet } from './printed-sheet.js';

/** How a person is called; mentions mean nothing on paper. */
type NameOf = (person: string) => Promise<string>;

/**
 * Draws a stored table sheet as a PDF.
 *
 * @throws ZodError when what was stored is no table sheet
 */
export async function drawSheet(content: unknown, nameOf: NameOf): Promise<Buffer> {
  const { sheet, units, madeAt } = PrintedSheet.parse(content);
  // Loaded for the first sheet, as it is large and most starts print none.
  const { tableSheetPdf } = await import('./table-sheet-pdf.js');
  return tableSheetPdf(await named(sheet, nameOf), units, madeAt);
}

async function named(sheet: TableSheet, nameOf: NameOf): Promise<TableSheet> {
  const tasters = await Promise.all(sheet.orders.map(({ taster }) => withoutMention(taster, nameOf)));
  return {
    ...sheet,
    host: await withoutMention(sheet.host, nameOf),
    orders: sheet.orders.map((order, index) => ({ ...order, taster: tasters[index] ?? order.taster })),
  };
}

async function withoutMention(text: string, nameOf: NameOf): Promise<string> {
  const person = /^<@([A-Z0-9]+)>$/.exec(text)?.[1];
  return person === undefined ? text : nameOf(person);
}
