import { endsItem, isConnector } from './boundary.js';
import type { Piece } from './piece.js';
import type { Unplaced } from './reading.js';
import { IGNORED, UNFITTING } from './unplaced-words.js';

const LONGEST_ITEM = 2;
const SHORTEST_WORD = 3;
const NAMING = new Set([
  'notes of',
  'note of',
  'hint of',
  'hints of',
  'a hint of',
  'a touch of',
  'tasting notes',
]);

/**
 * The words of a note that seem to describe a taste and mean no attribute: words known to fit none ("bland"),
 * short items of a list that hold nothing understood ("lemon, library, tea"), and what is named as a note
 * ("notes of library"). Talk and words of liking are none. `quiet` marks pieces of talk.
 */
export function findUnplaced(
  text: string,
  pieces: readonly Piece[],
  quiet: readonly boolean[],
): readonly Unplaced[] {
  const isNote = pieces.some((piece, i) => piece.kind === 'attribute' && quiet[i] !== true);
  const unplaced: Unplaced[] = [];
  const add = (from: number, to: number): void => {
    const span = [pieces[from]?.start ?? 0, pieces[to - 1]?.end ?? 0] as const;
    unplaced.push({ words: text.slice(span[0], span[1]), span });
  };
  let start = 0;
  for (let i = 0; i <= pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece !== undefined && !endsItem(piece) && !isConnector(piece)) continue;
    if (quiet[start] !== true && i > start) addItem(pieces, start, i, isNote, add);
    start = i + 1;
  }
  return unplaced;
}

function addItem(
  pieces: readonly Piece[],
  from: number,
  to: number,
  isNote: boolean,
  add: (from: number, to: number) => void,
): void {
  const named = namedFrom(pieces, from, to);
  if (named !== null) {
    add(named.from, named.to);
    return;
  }
  let first = from;
  while (first < to && isPassing(pieces[first])) first += 1;
  let end = to;
  while (end > first && isPassing(pieces[end - 1])) end -= 1;
  const short = end > first && end - first <= LONGEST_ITEM;
  if (isNote && short && allUnknown(pieces, first, end)) add(first, end);
  else for (let i = from; i < to; i += 1) if (isUnfitting(pieces[i])) add(i, i + 1);
}

/** "Notes of library": what follows the naming words, when all of it is unknown. */
function namedFrom(pieces: readonly Piece[], from: number, to: number): { from: number; to: number } | null {
  for (let i = from; i < to - 1; i += 1) {
    const piece = pieces[i];
    if (piece?.kind !== 'cue' || !NAMING.has(piece.text)) continue;
    let end = i + 1;
    while (end < to && end - i <= LONGEST_ITEM && isUnknown(pieces[end])) end += 1;
    return end > i + 1 ? { from: i + 1, to: end } : null;
  }
  return null;
}

function isPassing(piece: Piece | undefined): boolean {
  return (
    piece?.cue === 'transparent' ||
    piece?.cue === 'slight' ||
    piece?.cue === 'strong' ||
    piece?.cue === 'doubt' ||
    piece?.kind === 'cup'
  );
}

function allUnknown(pieces: readonly Piece[], from: number, to: number): boolean {
  for (let i = from; i < to; i += 1) if (!isUnknown(pieces[i])) return false;
  return true;
}

function isUnknown(piece: Piece | undefined): boolean {
  if (piece === undefined || piece.kind !== 'word') return false;
  return piece.text.length >= SHORTEST_WORD && !IGNORED.has(piece.text) && /^[a-z]+$/.test(piece.text);
}

function isUnfitting(piece: Piece | undefined): boolean {
  return piece !== undefined && piece.kind === 'word' && UNFITTING.has(piece.text);
}
