import type { Piece } from './piece.js';

const SENTENCE_ENDS = new Set(['.', ';', '!', '?', '\u2026', '\u2014', '\u2022', '|', '(', ')', ':']);
const ITEM_ENDS = new Set([',', '-', '\u00b7', '\u2192', '"']);

/** Whether a piece ends what a person would hear as a sentence: a full stop, a line break, a bracket. */
export function endsSentence(piece: Piece): boolean {
  return (
    piece.kind === 'break' ||
    piece.kind === 'opaque' ||
    (piece.kind === 'mark' && SENTENCE_ENDS.has(piece.text))
  );
}

/** Whether a piece ends an item of a list: a comma, or anything that ends a sentence. */
export function endsItem(piece: Piece): boolean {
  return endsSentence(piece) || (piece.kind === 'mark' && ITEM_ENDS.has(piece.text));
}

/** "Bitterness", "sweetness", "acidity": nouns that share an adjective, where "and sweet" would stand alone. */
export function isNounOfTaste(piece: Piece): boolean {
  return piece.text.endsWith('ness') || piece.text === 'acidity';
}

/** "and", "&", "+", "/" and "or": they tie what stands on both sides. */
export function isConnector(piece: Piece): boolean {
  if (piece.cue === 'and' || piece.cue === 'or') return true;
  return piece.kind === 'mark' && (piece.text === '&' || piece.text === '+' || piece.text === '/');
}
