import { buffer } from 'node:stream/consumers';
import PDFDocument from 'pdfkit';
import { FONT_FILES } from '../fonts/font-files.js';

/** A sheet being drawn, with A4 measures in points (1/72 inch). */
export type SheetPage = {
  readonly doc: PDFKit.PDFDocument;
  readonly left: number;
  readonly right: number;
  readonly width: number;
  readonly bottom: number;
  /** Share of the usual type size, so that a crowded sheet still fits its page. */
  readonly scale: number;
};

const MARGIN = 42;
const INK = '#1d1b18';
const PALE = '#6b655c';
const LINE = '#b9b1a5';

/** Opens an A4 document. */
export function openSheet(title: string, madeAt: Date, scale = 1): SheetPage {
  const us = 'Tallyspoon';
  const doc = new PDFDocument({
    size: 'A4',
    // What does not fit is left to the next smaller type; no text may open a page of its own.
    margins: { top: MARGIN, left: MARGIN, right: MARGIN, bottom: 0 },
    info: { Title: title, Author: us, Creator: us, Producer: us, CreationDate: madeAt },
    lang: 'en-GB',
    displayTitle: true,
    autoFirstPage: true,
  });
  doc.registerFont('plain', FONT_FILES.plain);
  doc.registerFont('bold', FONT_FILES.bold);
  const { width, height } = doc.page;
  const right = width - MARGIN;
  return { doc, left: MARGIN, right, width: right - MARGIN, bottom: height - MARGIN, scale };
}

/** Finishes the document and collects its bytes. */
export function closeSheet({ doc }: SheetPage): Promise<Buffer> {
  const whole = buffer(doc);
  doc.end();
  return whole;
}

/** How a text is set. */
export type Setting = {
  readonly size?: number;
  readonly bold?: boolean;
  readonly pale?: boolean;
  readonly align?: 'left' | 'center' | 'right';
};

/** Draws wrapped text in a box `width` wide and returns the height it takes; below the page nothing is drawn. */
export function putText(
  page: SheetPage,
  text: string,
  x: number,
  y: number,
  width: number,
  setting: Setting = {},
): number {
  const { doc } = page;
  withType(page, setting).fillColor(setting.pale ? PALE : INK);
  const options = { width, align: setting.align ?? 'left', lineGap: 1 };
  const height = doc.heightOfString(text, options);
  if (y + height <= doc.page.height) doc.text(text, x, y, options);
  return height;
}

/** Height that text would take. */
export function heightOf(page: SheetPage, text: string, width: number, setting: Setting = {}): number {
  return withType(page, setting).heightOfString(text, { width, lineGap: 1 });
}

function withType({ doc, scale }: SheetPage, { bold, size = 9 }: Setting): PDFKit.PDFDocument {
  return doc.font(bold ? 'bold' : 'plain').fontSize(size * scale);
}

/** A thin rule across the page. */
export function rule(page: SheetPage, y: number, from = page.left, to = page.right): void {
  page.doc.moveTo(from, y).lineTo(to, y).lineWidth(0.6).strokeColor(LINE).stroke();
}

/** A thin rounded frame. */
export function frame(page: SheetPage, x: number, y: number, width: number, height: number): void {
  page.doc.roundedRect(x, y, width, height, 4).lineWidth(0.8).strokeColor(LINE).stroke();
}

/** A heading with a rule under it; returns where what follows begins. */
export function heading(page: SheetPage, text: string, y: number, from = page.left, to = page.right): number {
  const height = putText(page, text, from, y, to - from, { size: 11, bold: true });
  rule(page, y + height + 1, from, to);
  return y + height + 6;
}

/** One column of a grid. Widths are shares of the whole. */
export type Column = Required<Pick<Setting, 'align'>> & { readonly title: string; readonly share: number };

const PAD = 3;

/**
 * Draws a table of text with a bold head and a rule under each row; rows grow with their text.
 *
 * @returns where what follows begins
 */
export function grid(
  page: SheetPage,
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  y: number,
  size: number,
  from = page.left,
  to = page.right,
): number {
  const whole = columns.reduce((sum, column) => sum + column.share, 0);
  const widths = columns.map((column) => ((to - from) * column.share) / whole);
  let at = y;
  for (const [index, row] of [columns.map((column) => column.title), ...rows].entries()) {
    const bold = index === 0;
    const height = Math.max(
      ...row.map((text, at) => heightOf(page, text, (widths[at] ?? 0) - 2 * PAD, { size, bold })),
    );
    let x = from;
    row.forEach((text, cell) => {
      const width = widths[cell] ?? 0;
      putText(page, text, x + PAD, at + 2, width - 2 * PAD, {
        size,
        bold,
        align: columns[cell]?.align ?? 'left',
      });
      x += width;
    });
    at += height + 4;
    rule(page, at - 1, from, to);
  }
  return at + 4;
}
