import type { Drawing, PlacingDrawing, TallyDrawing } from '../../domain/result/drawing.js';
import { cut, withEntities } from '../escape.js';

/** Font family of every picture. */
export const FONT = 'DejaVu Sans';
const INK = '#2c211a';
const PALE = '#eadfd3';
const LABEL_SIZE = 26;
/** Longer labels are cut: on a phone the dots need the room. */
const LABEL_LIMIT = 22;

/**
 * A drawing as SVG. The plot begins at (0, 0) and its labels stand outside of it, so that whoever rasters it
 * crops to what is drawn: only there is it known how wide a label is.
 */
export function chartSvg(drawing: Drawing): string {
  const marks = drawing.kind === 'tally' ? tallyMarks(drawing) : placingMarks(drawing);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="1000" font-family="${FONT}">${marks.join('')}</svg>`;
}

const ATTRIBUTE_STEP = 58;

/** Attributes down, cups across, one dot each: its area grows with the share of tasters, its number is how many. */
function tallyMarks({ cups, attributes, dots }: TallyDrawing): string[] {
  const coded = cups.some((cup) => cup.length > 2);
  const crowded = cups.length > 8;
  const step = crowded ? (coded ? 60 : 54) : 76;
  const size = coded && crowded ? 22 : LABEL_SIZE;
  const middle = (index: number, each: number) => (index + 0.5) * each;
  const rows = attributes.flatMap((attribute, row) => {
    const y = middle(row, ATTRIBUTE_STEP);
    return [line(0, y, cups.length * step, y), label(attribute, y)];
  });
  const heads = cups.map((cup, column) => text(cup, middle(column, step), -8, { size, bold: true }));
  const marks = dots.flatMap((dot) => {
    const x = middle(cups.indexOf(dot.cup), step);
    const y = middle(attributes.indexOf(dot.attribute), ATTRIBUTE_STEP);
    return [
      circle(x, y, Math.sqrt(420 + dot.share * 2080) / 2, '#e0a078'),
      text(String(dot.tasters), x, centred(y, 22), { size: 22, bold: true }),
    ];
  });
  return [...rows, ...heads, ...marks];
}

const RATIO_STEP = 74;
const RANKS_WIDTH = 520;
const RANKS_PADDING = 24;

/** Ratios down, ranks across: a dot for the mean, a bar for its interval. */
function placingMarks({ ratios, worst }: PlacingDrawing): string[] {
  const bottom = ratios.length * RATIO_STEP;
  const xOf = (rank: number) =>
    RANKS_PADDING + ((rank - 1) / (worst - 1)) * (RANKS_WIDTH - 2 * RANKS_PADDING);
  const ranks = ratios.flatMap((_, index) => {
    const x = xOf(index + 1);
    return [line(x, 0, x, bottom), text(String(index + 1), x, bottom + 26, { size: LABEL_SIZE })];
  });
  const title = ['mean rank, 1 is best', 'bar: its 95 % interval'].map((words, index) =>
    text(words, RANKS_WIDTH / 2, bottom + 56 + index * 26, { size: 24 }),
  );
  const marks = ratios.flatMap(({ name, mean, low, high }, index) => {
    const y = (index + 0.5) * RATIO_STEP;
    return [
      label(name, y),
      `<line x1="${xOf(low)}" y1="${y}" x2="${xOf(high)}" y2="${y}" stroke="#c9a184" stroke-width="8" stroke-linecap="round"/>`,
      circle(xOf(mean), y, 13, '#b5622f'),
    ];
  });
  return [...ranks, ...title, ...marks];
}

/** What a row is, left of the plot. */
function label(words: string, y: number): string {
  return text(cut(words, LABEL_LIMIT), -4, centred(y, LABEL_SIZE), { size: LABEL_SIZE, anchor: 'end' });
}

/** The line on which type stands when its capitals are to be centred on `y`: they are 0.73 of its size high. */
function centred(y: number, size: number): number {
  return y + (0.73 * size) / 2;
}

type Type = { readonly size: number; readonly bold?: boolean; readonly anchor?: 'middle' | 'end' };

function text(words: string, x: number, y: number, { size, bold = false, anchor = 'middle' }: Type): string {
  const weight = bold ? ' font-weight="bold"' : '';
  return `<text x="${x}" y="${y}" font-size="${size}"${weight} text-anchor="${anchor}" fill="${INK}">${withEntities(words)}</text>`;
}

function line(x1: number, y1: number, x2: number, y2: number): string {
  return `<line x1="${x1}" y1="${y1}" x2="${x2}" y2="${y2}" stroke="${PALE}"/>`;
}

function circle(x: number, y: number, radius: number, colour: string): string {
  return `<circle cx="${x}" cy="${y}" r="${radius}" fill="${colour}"/>`;
}
