import { endsSentence } from './boundary.js';
import { exactAfter } from './phrase-tree.js';
import type { Piece } from './piece.js';
import { EASY_FOLLOWERS, HEARD } from './talk-words.js';
import type { Token } from './token.js';

const ASIDE = new Set([':', '(', ')']);
/** Other words for each attribute from which on a sentence is hardly a description. */
const CROWDED = 1.5;
const VERY_CROWDED = 3;

/**
 * Marks the pieces of sentences that are talk and no tasting: errands, places, people, times and requests
 * ("lemons are on the counter"), and sentences where an attribute's word only colours another thing ("a
 * rough guess, forty people"). A sentence that says something was tasted, or that names a cup, is heard as
 * tasting all the same.
 */
export function findTalk(pieces: readonly Piece[], tokens: readonly Token[]): readonly boolean[] {
  const sentences = splitSentences(pieces);
  const listed = sentences.some(({ list }) => list);
  if (sentences.length === 1 && listed) return NO_TALK;
  const talk = new Array<boolean>(pieces.length).fill(false);
  for (const { from, to, list } of sentences) {
    if (!list && isTalk(pieces, from, to, tokens, listed)) talk.fill(true, from, to);
  }
  return talk;
}

const NO_TALK: readonly boolean[] = [];

/** Pieces `from` up to `to`; a `list` is nothing but attributes and the words that go with them. */
type Sentence = { readonly from: number; readonly to: number; readonly list: boolean };

function splitSentences(pieces: readonly Piece[]): readonly Sentence[] {
  const sentences: Sentence[] = [];
  let from = 0;
  for (let i = 0; i <= pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece !== undefined && (!endsSentence(piece) || ASIDE.has(piece.text))) continue;
    if (i > from) sentences.push({ from, to: i, list: isList(pieces, from, i) });
    from = i + 1;
  }
  return sentences;
}

/** Nothing but attributes and the words that go with them: a note, whatever else the message says. */
function isList(pieces: readonly Piece[], from: number, to: number): boolean {
  let attribute = false;
  for (let i = from; i < to; i += 1) {
    const kind = pieces[i]?.kind;
    if (kind === 'attribute') attribute = true;
    else if (kind !== 'cue' && kind !== 'mark') return false;
  }
  return attribute;
}

function isTalk(
  pieces: readonly Piece[],
  from: number,
  to: number,
  tokens: readonly Token[],
  listed: boolean,
): boolean {
  let attributes = 0;
  let tasting = 0;
  for (let i = from; i < to; i += 1) {
    const kind = pieces[i]?.kind;
    if (kind === 'cup') return false;
    if (kind !== 'attribute') continue;
    attributes += 1;
    if (i > from && isDegree(pieces[i - 1])) tasting = 1;
  }
  if (attributes === 0) return false;
  let talk = !listed && coloursOtherThings(pieces, from, to, attributes) ? 1 : 0;
  const end = pieces[to - 1]?.to ?? 0;
  const wordAt = (i: number): string | null => (i < end ? (tokens[i]?.text ?? null) : null);
  for (let i = pieces[from]?.from ?? 0; i < end; i += 1) {
    const heard = HEARD.get(tokens[i]?.text ?? '');
    if (heard === undefined) continue;
    if (heard.talk) talk += 1;
    if (heard.tasting) tasting += 1;
    if (heard.talkStart !== null && exactAfter(heard.talkStart, i, wordAt) !== null) talk += 1;
    if (heard.tastingStart !== null && exactAfter(heard.tastingStart, i, wordAt) !== null) tasting += 1;
  }
  return talk > tasting;
}

function isDegree(piece: Piece | undefined): boolean {
  return piece?.cue === 'strong' || piece?.cue === 'slight' || piece?.cue === 'more' || piece?.cue === 'most';
}

/** Whether the attributes stand right before other things, in a sentence with many words that are no taste's. */
function coloursOtherThings(pieces: readonly Piece[], from: number, to: number, attributes: number): boolean {
  let others = 0;
  let hard = false;
  let easy = false;
  for (let i = from; i < to; i += 1) {
    const piece = pieces[i];
    if (piece?.kind === 'attribute') {
      const next = i + 1 < to ? pieces[i + 1] : undefined;
      if (next?.kind !== 'word' && next?.kind !== 'number') continue;
      if (EASY_FOLLOWERS.has(next.text)) easy = true;
      else hard = true;
    } else if (piece?.kind === 'word' || piece?.kind === 'number') others += 1;
  }
  const crowding = others / attributes;
  return (hard && crowding >= CROWDED) || (easy && crowding >= VERY_CROWDED);
}
