import type { Piece } from './piece.js';
import type { VocabularyEntry } from './vocabulary-file.js';

const LINGERING = 'linger';
const SCARCE = new Set([
  'little',
  'very little',
  'hardly',
  'barely',
  'hardly any',
  'barely any',
  'not much',
  'minimal',
]);

/** Whether an attribute's words speak of lingering: "lingering", "lingers", "lingering taste". */
export function isLingering({ text, entry }: Piece): boolean {
  return entry?.name === 'long aftertaste' && text.startsWith(LINGERING);
}

/** Whether little of the lingering at `i` is left: "hardly any lingering taste", "not much of a lingering finish". */
export function isScarce(pieces: readonly Piece[], i: number): boolean {
  let j = i - 1;
  while (pieces[j]?.cue === 'transparent') j -= 1;
  return SCARCE.has(pieces[j]?.text ?? '');
}

/** What hardly lingers is short. */
export function shortened(piece: Piece, attributes: ReadonlyMap<string, VocabularyEntry>): Piece {
  return { ...piece, entry: attributes.get('short aftertaste') ?? piece.entry };
}

/** Whether a piece is lingering that was found scarce: how little there is makes it short, not slight. */
export function isShortened({ text, entry }: Piece): boolean {
  return entry?.name === 'short aftertaste' && text.startsWith(LINGERING);
}
