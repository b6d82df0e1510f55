import { phraseList, wordSet } from './phrases.js';
import { endsItem, type Piece } from './piece.js';
import type { Degree } from './reading.js';

/** A score written in a note: a value out of a highest, and the pieces it takes up. */
export type Score = {
  readonly value: number;
  readonly of: number;
  readonly from: number;
  readonly to: number;
};

const HIGHEST = new Set([4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 100]);

/** Finds scores like "4/5", "7.5/10" and "8 out of 9"; never part of a longer run such as "50/30/20". */
export function findScores(pieces: readonly Piece[]): readonly Score[] {
  const scores: Score[] = [];
  for (let i = 0; i < pieces.length; i += 1) {
    const score = scoreAt(pieces, i);
    if (score === null) continue;
    scores.push(score);
    i = score.to - 1;
  }
  return scores;
}

function scoreAt(pieces: readonly Piece[], i: number): Score | null {
  const value = pieces[i];
  if (value?.kind !== 'number' || pieces[i - 1]?.text === '/') return null;
  const outOf = pieces[i + 1]?.text === 'out' && pieces[i + 2]?.text === 'of';
  if (pieces[i + 1]?.text !== '/' && !outOf) return null;
  const at = outOf ? i + 3 : i + 2;
  const highest = pieces[at];
  if (highest?.kind !== 'number' || pieces[at + 1]?.text === '/') return null;
  const of = Number(highest.text);
  const number = Number(value.text);
  if (!HIGHEST.has(of) || number > of) return null;
  return { value: number, of, from: i, to: at + 1 };
}

const SCALE = 15;
const LOW = 0.4;
const HIGH = 0.8;
const BEFORE_RATING = new Set([':', '-', '=', 'is', 'was', 'at', '(', 'about', 'a', 'solid']);

/**
 * A degree on the 0–15 intensity scale of descriptive analysis (0 none, 15 extreme). Where the words put
 * it there is a rule of our own: slight 4, strong 12; a word without degree claims no number.
 */
export function degreeIntensity(degree: Degree): number | null {
  if (degree === 'plain') return null;
  return degree === 'slight' ? 4 : 12;
}

/**
 * The attributes that carry a score of their own ("acidity 4/5"), by piece. The score is stretched onto
 * 0–15; up to two fifths of its highest is slight, four fifths and more is strong (rules of our own).
 */
export function rateAttributes(
  pieces: readonly Piece[],
  scores: readonly Score[],
): ReadonlyMap<number, { degree: Degree; intensity: number }> {
  const rated = new Map<number, { degree: Degree; intensity: number }>();
  for (const { value, of, from } of scores) {
    let i = from - 1;
    while (BEFORE_RATING.has(pieces[i]?.text ?? '')) i -= 1;
    if (pieces[i]?.kind !== 'attribute') continue;
    const share = value / of;
    const degree = share <= LOW ? 'slight' : share >= HIGH ? 'strong' : 'plain';
    rated.set(i, { degree, intensity: Math.round(share * SCALE) });
  }
  return rated;
}

const SCORE_WORDS = wordSet(
  'liking like score scored scores rate rated rating ratings overall give gave points enjoyment',
);
const BETWEEN = wordSet(
  'a an it is was this at of : - = i would id give about say solid for me my the to * ( , preference',
);
const HEDONIC_PHRASES: readonly (readonly [number, readonly string[]])[] = [
  [9, phraseList('like extremely')],
  [
    8,
    phraseList('like very much, love it, love this, loved it, loved this, really like it, really like this'),
  ],
  [7, phraseList('like moderately')],
  [6, phraseList('like slightly')],
  [5, phraseList('neither like nor dislike')],
  [4, phraseList('dislike slightly')],
  [3, phraseList('dislike moderately')],
  [2, phraseList('dislike very much, hate it, hate this, hated it, hated this')],
  [1, phraseList('dislike extremely')],
];
/** Marks and words of a list of scores. */
const LISTED = new Set([',', '.', ';', ':', '-', '=', 'and', '&']);
const LONGEST_SCALE = 9;
const REACH = 4;

/**
 * What a note says of liking, by cup label, on the nine-point hedonic scale (1 dislike extremely, 5 neither,
 * 9 like extremely). A number out of another highest is stretched onto 1–9 (a rule of our own), to one
 * decimal; words are the scale's own, and "love" and "hate" count as like and dislike very much (ours too).
 */
export function readLiking(
  pieces: readonly Piece[],
  scores: readonly Score[],
  cups: readonly (readonly string[])[],
): Readonly<Record<string, number>> {
  const liking = new Map<string, number>();
  const set = (at: number, value: number): void => {
    for (const label of cups[at] ?? []) liking.set(label, value);
  };
  const scored = pieces.some(({ text }) => SCORE_WORDS.has(text)) || isScoreList(pieces);
  const isRated = (at: number) => scores.some(({ from, to }) => from <= at && at < to);
  for (const { value, of, from, to } of scores) {
    if (isOfCup(pieces, from, to)) set(from, stretch(value, of));
  }
  for (const [i, piece] of pieces.entries()) {
    if (piece.kind === 'number' && scored && !isRated(i) && isScore(pieces, i)) {
      const value = Number(piece.text);
      if (value >= 1 && value <= 10) set(i, value > LONGEST_SCALE ? stretch(value, 10) : value);
    }
  }
  for (const [at, value] of findHedonic(pieces)) set(at, value);
  return Object.fromEntries(liking);
}

/**
 * "D 7, E 8, F 5": nothing but cups, each with a number, and not the numbers from one up, which may as well
 * be places.
 */
function isScoreList(pieces: readonly Piece[]): boolean {
  const values: number[] = [];
  for (const [i, piece] of pieces.entries()) {
    if (piece.kind === 'number') {
      if (!LISTED.has(pieces[i - 1]?.text ?? '') && pieces[i - 1]?.kind !== 'cup') return false;
      values.push(Number(piece.text));
    } else if (piece.kind !== 'cup' && piece.kind !== 'break' && !LISTED.has(piece.text)) return false;
  }
  const cups = pieces.filter(({ kind }) => kind === 'cup').length;
  const places = [...values].sort((a, b) => a - b).every((value, i) => value === i + 1);
  return values.length >= 2 && values.length === cups && !places;
}

function stretch(value: number, of: number): number {
  if (of === LONGEST_SCALE) return Math.max(1, value);
  return Math.max(1, Math.round((1 + ((value - 1) * 8) / (of - 1)) * 10) / 10);
}

/** Whether a score is the cup's: after its name or a word of liking, or alone, not beside an attribute. */
function isOfCup(pieces: readonly Piece[], from: number, to: number): boolean {
  for (let i = from - 1; i >= Math.max(0, from - REACH); i -= 1) {
    const piece = pieces[i];
    if (piece?.kind === 'cup' || SCORE_WORDS.has(piece?.text ?? '')) return true;
    if (piece === undefined || piece.kind === 'break') break;
    if (piece.kind === 'attribute' || piece.cue === 'body' || piece.cue === 'finish') return false;
    if (!BETWEEN.has(piece.text)) break;
  }
  const before = pieces[from - 1];
  const after = pieces[to];
  const alone = (before === undefined || endsItem(before)) && (after === undefined || endsItem(after));
  return alone || after?.text === 'for';
}

/** A bare number counts only behind a word of scoring or a cup's name. */
function isScore(pieces: readonly Piece[], at: number): boolean {
  if (pieces[at + 1]?.text === '/' || pieces[at - 1]?.text === '/' || pieces[at + 1]?.text === '%')
    return false;
  for (let i = at - 1; i >= Math.max(0, at - REACH); i -= 1) {
    const piece = pieces[i];
    if (piece === undefined || piece.kind === 'attribute' || piece.kind === 'break') return false;
    if (SCORE_WORDS.has(piece.text)) return true;
    if (piece.kind === 'cup') return true;
    if (!BETWEEN.has(piece.text)) return false;
  }
  return false;
}

function findHedonic(pieces: readonly Piece[]): readonly (readonly [number, number])[] {
  const found: (readonly [number, number])[] = [];
  for (const [i, piece] of pieces.entries()) {
    if (!/^(?:like|love|loved|hate|hated|dislike|neither|really)/.test(piece.text)) continue;
    const words = pieces
      .slice(i, i + 5)
      .map(({ text }) => text)
      .join(' ');
    const said = HEDONIC_PHRASES.find(([, phrases]) =>
      phrases.some((start) => words === start || words.startsWith(`${start} `)),
    );
    if (said !== undefined && pieces[i - 1]?.cue !== 'denyNot') found.push([i, said[0]]);
  }
  return found;
}
