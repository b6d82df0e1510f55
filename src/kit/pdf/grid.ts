import { heightOf, putText, rule, type SheetPage } from './sheet-page.js';

/** One column of a grid. Widths are shares of the whole. */
export type Column = {
  readonly title: string;
  readonly share: number;
  readonly align: 'left' | 'center' | 'right';
};

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
