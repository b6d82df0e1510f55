import { endsItem, endsSentence, isConnector, isNounOfTaste } from './boundary.js';
import { FRAMES, type Frame } from './frame-words.js';
import type { Piece } from './piece.js';
import type { VocabularyEntry } from './vocabulary-file.js';

const REACH = 5;

/**
 * Reads adjectives together with the noun they describe: "light and smooth body", "acidity was bright",
 * "mouthfeel: medium". A body named without any adjective is a full one, unless it is only praised.
 */
export function readFrames(
  pieces: readonly Piece[],
  attributes: ReadonlyMap<string, VocabularyEntry>,
): readonly Piece[] {
  if (!namesNoun(pieces)) return pieces;
  const read = [...pieces];
  for (let i = 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece === undefined) continue;
    const noun = nounOf(piece, read[i - 1]);
    if (noun === null) continue;
    const frame = FRAMES[noun];
    const shared = sharedLevel(read, i, frame);
    if (shared !== null) {
      read[i] = { ...piece, kind: 'attribute', cue: null, entry: attributes.get(shared) ?? piece.entry };
      continue;
    }
    const before = findBefore(read, i, frame);
    const places = onlyMedium(read, before.length > 0 ? before : findAfter(read, i, frame));
    for (const place of places) rename(read, place, frame, attributes);
    if (noun === 'acidity' && places.length > 0 && places.some((place) => read[place]?.entry)) mute(read, i);
    if (noun === 'body' && places.length === 0 && isBareBody(read, i)) {
      read[i] = { ...piece, kind: 'attribute', cue: null, entry: attributes.get('full body') ?? null };
    }
  }
  return read;
}

/** "Low bitterness and acidity": the level is both nouns', so it stays before the first and names the second. */
function sharedLevel(pieces: readonly Piece[], noun: number, frame: Frame): string | null {
  const tie = pieces[noun - 1];
  const other = pieces[noun - 2];
  const level = pieces[noun - 3];
  if (tie === undefined || !isConnector(tie) || level?.cue == null) return null;
  return other?.kind === 'attribute' && isNounOfTaste(other) ? (frame.get(level.text) ?? null) : null;
}

/** "Medium high" and "medium light" are medium. */
function onlyMedium(pieces: readonly Piece[], places: readonly number[]): readonly number[] {
  const medium = places.filter((place) => pieces[place]?.text.startsWith('med') === true);
  return medium.length > 0 ? medium : places;
}

function nounOf(piece: Piece, before: Piece | undefined): 'body' | 'finish' | 'acidity' | null {
  if (piece.cue === 'body' || piece.cue === 'finish') return piece.cue;
  if (piece.kind !== 'attribute' && piece.kind !== 'cue') return null;
  if (piece.text === 'acidity' || piece.text === 'acid') return 'acidity';
  const afterAdjective = piece.text === 'feel' && before !== undefined && FRAMES.body.has(before.text);
  return afterAdjective ? 'body' : null;
}

function namesNoun(pieces: readonly Piece[]): boolean {
  for (let i = 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece !== undefined && nounOf(piece, pieces[i - 1]) !== null) return true;
  }
  return false;
}

function findBefore(pieces: readonly Piece[], noun: number, frame: Frame): readonly number[] {
  const places: number[] = [];
  for (let i = noun - 1; i >= Math.max(0, noun - REACH); i -= 1) {
    const piece = pieces[i];
    if (piece === undefined || endsItem(piece)) break;
    if (frame.has(piece.text)) places.push(i);
    else if (!isConnector(piece) && piece.kind !== 'attribute') break;
  }
  return places;
}

function findAfter(pieces: readonly Piece[], noun: number, frame: Frame): readonly number[] {
  const places: number[] = [];
  for (let i = noun + 1; i <= Math.min(pieces.length - 1, noun + REACH); i += 1) {
    const piece = pieces[i];
    if (piece === undefined) break;
    if (frame.has(piece.text) && tied(pieces, noun, i)) places.push(i);
    else if (places.length > 0 && !isConnector(piece)) break;
    else if (!isTie(piece) && !isConnector(piece)) break;
  }
  return places;
}

function tied(pieces: readonly Piece[], noun: number, place: number): boolean {
  for (let i = noun + 1; i < place; i += 1) {
    const piece = pieces[i];
    if (
      piece?.cue === 'link' ||
      piece?.cue === 'time' ||
      piece?.text === ':' ||
      piece?.text === '=' ||
      piece?.text === '-'
    )
      return true;
  }
  return false;
}

function isTie(piece: Piece): boolean {
  if (endsSentence(piece)) return piece.text === ':';
  const tie =
    piece.cue === 'link' || piece.cue === 'transparent' || piece.cue === 'strong' || piece.cue === 'slight';
  return tie || piece.cue === 'time' || piece.cue === 'denyNot' || piece.text === '=' || piece.text === '-';
}

function rename(
  read: Piece[],
  place: number,
  frame: Frame,
  attributes: ReadonlyMap<string, VocabularyEntry>,
): void {
  const piece = read[place];
  if (piece === undefined) return;
  const entry = attributes.get(frame.get(piece.text) ?? '') ?? null;
  if (entry === null) read[place] = { ...piece, kind: 'word', entry: null, cue: null };
  else read[place] = { ...piece, kind: 'attribute', entry, cue: null, twist: twistOf(piece) };
}

function twistOf(piece: Piece): Piece['twist'] {
  if (piece.twist !== null) return piece.twist;
  return piece.text.endsWith('est') ? 'most' : piece.text.endsWith('er') ? 'more' : null;
}

function mute(read: Piece[], i: number): void {
  const piece = read[i];
  if (piece !== undefined) read[i] = { ...piece, kind: 'cue', entry: null, cue: 'transparent' };
}

/** "Body 2/5", "body: 4 out of 5". */
function isScored(pieces: readonly Piece[], i: number): boolean {
  const next = pieces[i + 1];
  const at = next?.kind === 'mark' || next?.cue === 'link' ? i + 2 : i + 1;
  const outOf = pieces[at + 1]?.text;
  return pieces[at]?.kind === 'number' && (outOf === '/' || outOf === 'out');
}

/** "Body" by itself, scored, denied or compared; not "nice body", "mouthfeel of cream" or "the texture". */
function isBareBody(pieces: readonly Piece[], i: number): boolean {
  if (pieces[i]?.text !== 'body') return false;
  if (isScored(pieces, i)) return true;
  const before = pieces[i - 1];
  if (before === undefined || endsItem(before)) {
    const after = pieces[i + 1];
    return after === undefined || endsItem(after) || isConnector(after);
  }
  return (
    before.cue === 'deny' ||
    before.cue === 'more' ||
    before.cue === 'less' ||
    before.cue === 'most' ||
    before.cue === 'slight' ||
    before.text === 'some' ||
    isConnector(before)
  );
}
