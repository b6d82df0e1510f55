import { endsItem, isConnector } from './boundary.js';
import type { Piece } from './piece.js';

/** What a word may stand before and still be said of the cup. */
const CUP_NOUNS = new Set(
  'cup coffee taste tasting flavour flavours flavor flavors profile brew sip spread balance all'.split(' '),
);
const AGES = new Set(
  'im am same good any year years day days week weeks month months my your our his her their the'.split(' '),
);
const PLACES = new Set(['at', 'on', 'for', 'to', 'when', 'as', 'with', 'medium', 'but', 'throughout']);

/** Words that describe the cup only when they stand by themselves: "even, round", "tastes old", "rich". */
export function isLoneWord(text: string): boolean {
  return text === 'even' || text === 'old' || text === 'rich';
}

/**
 * Whether such a word at `i` describes the cup: an even cup is balanced, but "even sweeter" is only sweeter; an
 * old taste is stale, but an old friend is not; "rich" alone is a full body, and "rich in plum" or "rich
 * customer" is none. A rich flavour ("rich caramel") is a matter of degree and settled before.
 */
export function standsAlone(pieces: readonly Piece[], i: number): boolean {
  const { text } = pieces[i] ?? {};
  const next = pieces[i + 1];
  const before = pieces[i - 1];
  if (text === 'old' && (before?.kind === 'number' || AGES.has(before?.text ?? ''))) return false;
  if (next === undefined || endsItem(next) || isConnector(next)) return !isCalled(pieces, i);
  if (text === 'rich')
    return PLACES.has(next.text) || next.cue === 'time' || next.text === 'cup' || next.text === 'coffee';
  return next.text === 'but' || next.text === 'throughout' || CUP_NOUNS.has(next.text);
}

/** "Rich and I": a name. */
function isCalled(pieces: readonly Piece[], i: number): boolean {
  return pieces[i]?.text === 'rich' && pieces[i + 1]?.cue === 'and' && pieces[i + 2]?.text === 'i';
}
