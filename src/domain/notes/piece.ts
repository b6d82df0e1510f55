import type { Cue } from './cue-words.js';
import type { CupReference } from './cup-reference.js';
import type { Lexicon } from './lexicon.js';
import { exactAfter, type Found, longestAfter, type PhraseTree } from './phrase-tree.js';
import type { Token } from './token.js';
import type { VocabularyEntry } from './vocabulary-file.js';
import type { Twist, WordForm } from './word-forms.js';
import type { WordSense } from './word-sense.js';

/**
 * A stretch of a note that does one thing: it names an attribute, it is a cue, it names cups, or it is a word, number or
 * mark by itself. `from` and `to` count tokens, `start` and `end` offsets of the source. `text` is the
 * folded words, joined by spaces.
 */
export type Piece = {
  readonly kind: 'attribute' | 'cue' | 'cup' | Token['kind'];
  readonly text: string;
  readonly start: number;
  readonly end: number;
  readonly from: number;
  readonly to: number;
  readonly entry: VocabularyEntry | null;
  readonly twist: Twist | null;
  readonly cue: Cue | null;
  readonly cups: readonly string[];
};

const NO_CUPS: readonly string[] = [];

/** Cuts tokens into pieces: at each place the longest phrase wins, an attribute before a cue of its length. */
export function cutPieces(
  tokens: readonly Token[],
  lexicon: Lexicon,
  cupAt: (index: number) => CupReference | null,
): readonly Piece[] {
  const pieces: Piece[] = [];
  const senses = findSenses(tokens, lexicon);
  const formsAt = (i: number): readonly WordForm[] | null => senses[i]?.forms ?? null;
  const wordAt = (i: number): string | null =>
    tokens[i]?.kind === 'word' ? (tokens[i]?.text ?? null) : null;
  let i = 0;
  while (i < tokens.length) {
    const token = tokens[i];
    if (token === undefined) break;
    const cup = cupAt(i);
    const sense = senses[i];
    let piece: Piece;
    if (cup !== null) piece = cupPiece(tokens, token, i, cup);
    else if (sense === null || sense === undefined) piece = barePiece(token, i);
    else {
      const attribute = sense.goesOn ? longestFrom(sense, i, formsAt) : sense.alone;
      const cue = sense.cue === null ? null : longestCue(sense, sense.cue, i, wordAt);
      piece = toPiece(tokens, token, i, attribute, cue);
    }
    pieces.push(piece);
    i = piece.to;
  }
  return pieces;
}

/** What each word can do; null for what is no word. */
function findSenses(tokens: readonly Token[], { senseOf }: Lexicon): readonly (WordSense | null)[] {
  const senses: (WordSense | null)[] = [];
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i];
    if (token === undefined) break;
    senses.push(token.kind === 'word' || token.kind === 'emoji' ? senseOf(token.text) : null);
  }
  return senses;
}

/** The longest phrase of the vocabulary that begins with a word, whichever of its forms it begins with. */
export function longestFrom(
  { alone, starts }: WordSense,
  from: number,
  formsAt: (index: number) => readonly WordForm[] | null,
): Found<VocabularyEntry> | null {
  const after = formsAt(from + 1);
  if (after === null || after.length === 0) return alone;
  let best = alone;
  for (let i = 0; i < starts.length; i += 1) {
    const start = starts[i];
    if (start !== undefined) best = longestAfter(start.node, from + 1, 1, start.twist, formsAt, best);
  }
  return best;
}

function longestCue(
  { cueAlone }: WordSense,
  start: PhraseTree<Cue>,
  from: number,
  wordAt: (index: number) => string | null,
): Found<Cue> | null {
  if (start.next.size === 0) return cueAlone;
  const next = wordAt(from + 1);
  return next === null || !start.next.has(next) ? cueAlone : exactAfter(start, from, wordAt);
}

function barePiece({ kind, text, start, end }: Token, from: number): Piece {
  return { kind, text, start, end, from, to: from + 1, entry: null, twist: null, cue: null, cups: NO_CUPS };
}

function cupPiece(
  tokens: readonly Token[],
  { text, start }: Token,
  from: number,
  { labels, length }: CupReference,
): Piece {
  const to = from + length;
  const end = tokens[to - 1]?.end ?? start;
  return { kind: 'cup', text, start, end, from, to, entry: null, twist: null, cue: null, cups: labels };
}

function toPiece(
  tokens: readonly Token[],
  first: Token,
  from: number,
  attribute: Found<VocabularyEntry> | null,
  cue: Found<Cue> | null,
): Piece {
  const { text, start } = first;
  if (cue !== null && (attribute === null || cue.length > attribute.length)) {
    const to = from + cue.length;
    const end = tokens[to - 1]?.end ?? start;
    const { words, value } = cue;
    return {
      kind: 'cue',
      text: words,
      start,
      end,
      from,
      to,
      entry: null,
      twist: null,
      cue: value,
      cups: NO_CUPS,
    };
  }
  if (attribute === null) return barePiece(first, from);
  const { length, value, twist } = attribute;
  const to = from + length;
  return {
    kind: 'attribute',
    text: length === 1 ? text : joinWords(tokens, from, length),
    start,
    end: tokens[to - 1]?.end ?? start,
    from,
    to,
    entry: value,
    twist,
    cue: null,
    cups: NO_CUPS,
  };
}

function joinWords(tokens: readonly Token[], from: number, length: number): string {
  let text = tokens[from]?.text ?? '';
  for (let i = from + 1; i < from + length; i += 1) text += ` ${tokens[i]?.text ?? ''}`;
  return text;
}
