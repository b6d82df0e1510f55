import { endsSentence } from './boundary.js';
import { longestExact } from './phrase-tree.js';
import type { Piece } from './piece.js';
import { EASY_FOLLOWERS, TALK_PHRASES, TALK_WORDS, TASTING_PHRASES, TASTING_WORDS } from './talk-words.js';
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
  const talk = new Array<boolean>(pieces.length).fill(false);
  const sentences = splitSentences(pieces);
  const lists = sentences.map(({ from, to }) => isList(pieces, from, to));
  const listed = lists.includes(true);
  for (const [i, { from, to }] of sentences.entries()) {
    if (lists[i] !== true && isTalk(pieces.slice(from, to), tokens, listed)) talk.fill(true, from, to);
  }
  return talk;
}

function splitSentences(pieces: readonly Piece[]): readonly { from: number; to: number }[] {
  const sentences: { from: number; to: number }[] = [];
  let from = 0;
  for (let i = 0; i <= pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece !== undefined && (!endsSentence(piece) || ASIDE.has(piece.text))) continue;
    if (i > from) sentences.push({ from, to: i });
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

function isTalk(sentence: readonly Piece[], tokens: readonly Token[], listed: boolean): boolean {
  if (sentence.some(({ kind }) => kind === 'cup') || !sentence.some(({ kind }) => kind === 'attribute'))
    return false;
  const from = sentence[0]?.from ?? 0;
  const to = sentence.at(-1)?.to ?? 0;
  const wordAt = (i: number): string | null => (i < to ? (tokens[i]?.text ?? null) : null);
  let talk = !listed && coloursOtherThings(sentence) ? 1 : 0;
  let tasting = sentence.some((piece, i) => piece.kind === 'attribute' && isDegree(sentence[i - 1])) ? 1 : 0;
  for (let i = from; i < to; i += 1) {
    const word = tokens[i]?.text ?? '';
    if (TALK_WORDS.has(word)) talk += 1;
    if (TASTING_WORDS.has(word)) tasting += 1;
    if (longestExact(TALK_PHRASES, i, wordAt) !== null) talk += 1;
    if (longestExact(TASTING_PHRASES, i, wordAt) !== null) tasting += 1;
  }
  return talk > tasting;
}

function isDegree(piece: Piece | undefined): boolean {
  return piece?.cue === 'strong' || piece?.cue === 'slight' || piece?.cue === 'more' || piece?.cue === 'most';
}

/** Whether the attributes stand right before other things, in a sentence with many words that are no taste's. */
function coloursOtherThings(sentence: readonly Piece[]): boolean {
  let attributes = 0;
  let others = 0;
  let hard = false;
  let easy = false;
  for (const [i, piece] of sentence.entries()) {
    if (piece.kind === 'attribute') {
      attributes += 1;
      const next = sentence[i + 1];
      if (next?.kind !== 'word' && next?.kind !== 'number') continue;
      if (EASY_FOLLOWERS.has(next.text)) easy = true;
      else hard = true;
    } else if (piece.kind === 'word' || piece.kind === 'number') others += 1;
  }
  const crowding = others / attributes;
  return (hard && crowding >= CROWDED) || (easy && crowding >= VERY_CROWDED);
}
