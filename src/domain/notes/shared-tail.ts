import { isConnector } from './boundary.js';
import type { Piece } from './piece.js';
import type { VocabularyEntry } from './vocabulary-file.js';

/** Beginnings of berries, as they stand when several share one "-berry". */
const BERRIES: ReadonlyMap<string, string> = new Map([
  ['rasp', 'raspberry'],
  ['straw', 'strawberry'],
  ['black', 'blackberry'],
  ['blue', 'blueberry'],
  ['boysen', 'berry'],
  ['goose', 'berry'],
  ['elder', 'berry'],
  ['cran', 'red fruit'],
]);
const CURRANTS: ReadonlyMap<string, string> = new Map([
  ['black', 'blackcurrant'],
  ['red', 'red fruit'],
]);

/** Whether an attribute may lend its last part to words before it. */
export function lendsTail({ text, entry }: Piece): boolean {
  return entry?.family === 'fruity' && tailOf(text) !== null;
}

/**
 * "Rasp/blackberry", "black- or blueberry", "red and blackcurrant": the words before the berry at `i` are
 * berries too. Puts them right in `pieces`.
 */
export function shareTail(
  pieces: Piece[],
  i: number,
  attributes: ReadonlyMap<string, VocabularyEntry>,
): void {
  const berries = tailOf(pieces[i]?.text ?? '');
  if (berries === null) return;
  let at = i;
  while (true) {
    const tie = pieces[at - 1];
    if (tie === undefined || !isConnector(tie)) return;
    const hyphen = pieces[at - 2]?.text === '-';
    const stem = hyphen ? at - 3 : at - 2;
    const piece = pieces[stem];
    const entry = attributes.get(berries.get(piece?.text ?? '') ?? '');
    if (piece === undefined || entry === undefined) return;
    // "Straw and blackberry" are two things; "straw- and blackberry" are berries.
    if (piece.kind !== 'word' && !hyphen && tie.kind !== 'mark') return;
    pieces[stem] = { ...piece, kind: 'attribute', entry, cue: null, twist: null };
    at = stem;
  }
}

function tailOf(text: string): ReadonlyMap<string, string> | null {
  if (text.includes(' ')) return null;
  if (text.endsWith('berry') || text.endsWith('berries')) return BERRIES;
  return text.endsWith('currant') || text.endsWith('currants') ? CURRANTS : null;
}
