import { isLevelled } from './degree.js';
import type { Piece } from './piece.js';
import type { Mention } from './reading.js';

const LIST_MARKS = new Set([',', '.', ';', '/', '&', '+', '*', '\u2022', '-']);
/** Words whose meaning hangs on what stands around them even in a list. */
const WATCHED = new Set(['milk', 'cream', 'sugar', 'water', 'roast', 'roasts', 'honey', 'butter', 'salt']);

/**
 * Whether a note is nothing but a list of attributes ("lemon, black tea / light body"), as most are: then
 * nothing in it denies, weighs, doubts, compares or names a cup, and no rule of reading needs to be asked.
 */
export function isPlainList(pieces: readonly Piece[]): boolean {
  for (let i = 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece === undefined) return false;
    if (piece.kind === 'attribute') {
      if (piece.twist !== null || WATCHED.has(piece.text) || isLevelled(piece.text)) return false;
    } else if (piece.kind === 'mark') {
      if (!LIST_MARKS.has(piece.text)) return false;
    } else if (piece.cue !== 'and' && piece.kind !== 'break') return false;
  }
  return true;
}

/** The mentions of a plain list, each attribute once. */
export function plainMentions(pieces: readonly Piece[], cup: string | null): readonly Mention[] {
  const mentions: Mention[] = [];
  const seen = new Set<string>();
  for (let i = 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece === undefined || piece.entry === null || seen.has(piece.entry.name)) continue;
    seen.add(piece.entry.name);
    mentions.push({
      cup,
      attribute: piece.entry.name,
      polarity: 'present',
      degree: 'plain',
      intensity: null,
      doubt: false,
      span: [piece.start, piece.end],
    });
  }
  return mentions;
}
