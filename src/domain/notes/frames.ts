import { endsItem, endsSentence, isConnector, isNounOfTaste, type Piece } from './piece.js';
import type { VocabularyEntry } from './vocabulary-file.js';

/**
 * What an adjective means beside a word of body, finish or acidity: "heavy" beside "mouthfeel" is a full
 * body. An empty name takes the adjective's own meaning away (a "muted finish" is no mild cup). Adjectives
 * that keep their meaning there ("creamy texture") are not listed.
 */
type Frame = ReadonlyMap<string, string>;

function frame(rows: readonly (readonly [attribute: string, adjectives: string])[]): Frame {
  return new Map(
    rows.flatMap(([attribute, words]) => words.split(', ').map((word) => [word, attribute] as const)),
  );
}

const FRAMES = {
  body: frame([
    [
      'light body',
      'light, lighter, lightest, lite, delicate, low, lower, lowest, little, very little, airy, slight, mild, subtle',
    ],
    ['thin', 'thin, thinner, thinnest, watery, waterier, weak, weaker, weakest, hollow, dilute, diluted'],
    ['medium body', 'medium, med, mid, moderate, middling, middle, average, mid range'],
    [
      'full body',
      'full, fuller, fullest, heavy, heavier, heaviest, thick, thicker, thickest, big, bigger, biggest, rich, richer, richest, strong, stronger, strongest, high, higher, highest, dense, denser, densest, bold, bolder, robust, substantial, solid, weighty, deep, hefty, lots of, a lot of, tons of, good amount of',
    ],
    ['smooth', 'soft, softer'],
    ['mouth-drying', 'dry, drier, drying'],
    ['creamy', 'buttery, milky'],
    ['tea-like body', 'tea-like, tea like, tea'],
    ['oily', 'slippery'],
  ]),
  finish: frame([
    ['long aftertaste', 'long, longer, longest, lingering, lasting, persistent, extended, prolonged'],
    ['short aftertaste', 'short, shorter, shortest, quick, brief, limited, little, very little'],
    ['clean aftertaste', 'clean, cleaner, crisp, crisper, fresh'],
    ['sweet aftertaste', 'sweet, sweeter, sugary'],
    ['bitter aftertaste', 'bitter, bitterer'],
    ['dry aftertaste', 'dry, drier, drying, astringent, tannic'],
    [
      '',
      'muted, light, weak, strong, subtle, mild, faint, quiet, gentle, delicate, bold, soft, heavy, full, intense',
    ],
  ]),
  acidity: frame([
    ['bright acidity', 'bright, brighter, brightest, lively, vibrant, vivid, crisp, snappy, clean'],
    ['sparkling acidity', 'sparkling, effervescent, fizzy'],
    ['tart acidity', 'tart, tarter, tangy'],
    ['sharp acidity', 'sharp, sharper, piercing, pointy, biting, aggressive, harsh'],
    ['juicy acidity', 'juicy, juicier'],
    [
      'soft acidity',
      'soft, softer, mellow, gentle, low, lower, lowest, mild, milder, rounded, round, muted, little, very little',
    ],
    ['flat acidity', 'flat, dull'],
    ['citric acidity', 'citric, citrus, citrusy, lemony'],
  ]),
};

const REACH = 5;
const TYING_MARKS = new Set([':', '=', '-']);
const TYING_CUES = new Set<string>(['link', 'transparent', 'strong', 'slight', 'time', 'denyNot']);
const BEFORE_BODY = new Set<string>(['deny', 'more', 'less', 'most', 'slight']);

/**
 * Reads adjectives together with the noun they describe: "light and smooth body", "acidity was bright",
 * "mouthfeel: medium". A body named without any adjective is a full one, unless it is only praised.
 */
export function readFrames(
  pieces: readonly Piece[],
  attributes: ReadonlyMap<string, VocabularyEntry>,
): readonly Piece[] {
  const read = [...pieces];
  for (const [i, piece] of pieces.entries()) {
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

/** Whether a verb or a mark between the noun and the word at `place` ties them. */
function tied(pieces: readonly Piece[], noun: number, place: number): boolean {
  return pieces
    .slice(noun + 1, place)
    .some(({ cue, text }) => cue === 'link' || cue === 'time' || TYING_MARKS.has(text));
}

function isTie(piece: Piece): boolean {
  if (endsSentence(piece)) return piece.text === ':';
  return TYING_CUES.has(piece.cue ?? '') || TYING_MARKS.has(piece.text);
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
  return BEFORE_BODY.has(before.cue ?? '') || before.text === 'some' || isConnector(before);
}
