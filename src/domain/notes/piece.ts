import type { Cue } from './cue-words.js';
import { CUES } from './cues.js';
import type { CupReference } from './cup-reference.js';
import type { Lexicon } from './lexicon.js';
import { type Found, longestExact, longestPhrase } from './phrase-tree.js';
import type { Token } from './token.js';
import type { VocabularyEntry } from './vocabulary-file.js';
import type { Twist, WordForm } from './word-forms.js';

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

/** Cuts tokens into pieces: at each place the longest phrase wins, an attribute before a cue of its length. */
export function cutPieces(
  tokens: readonly Token[],
  lexicon: Lexicon,
  cupAt: (index: number) => CupReference | null,
): readonly Piece[] {
  const pieces: Piece[] = [];
  const attributeForms = (i: number): readonly WordForm[] | null => {
    const token = tokens[i];
    if (token === undefined || (token.kind !== 'word' && token.kind !== 'emoji')) return null;
    return lexicon.formsOf(token.text);
  };
  const cueWord = (i: number): string | null => {
    const token = tokens[i];
    return token === undefined || token.kind !== 'word' ? null : token.text;
  };
  let i = 0;
  while (i < tokens.length) {
    const cup = cupAt(i);
    if (cup !== null) {
      pieces.push(cupPiece(tokens, i, cup));
      i += cup.length;
      continue;
    }
    const attribute = longestPhrase(lexicon.phrases, i, attributeForms);
    const cue = longestExact(CUES, i, cueWord);
    const piece = toPiece(tokens, i, attribute, cue);
    pieces.push(piece);
    i = piece.to;
  }
  return pieces;
}

function cupPiece(tokens: readonly Token[], from: number, { labels, length }: CupReference): Piece {
  const to = from + length;
  const start = tokens[from]?.start ?? 0;
  const end = tokens[to - 1]?.end ?? start;
  const text = tokens[from]?.text ?? '';
  return { kind: 'cup', text, start, end, from, to, entry: null, twist: null, cue: null, cups: labels };
}

function toPiece(
  tokens: readonly Token[],
  from: number,
  attribute: Found<VocabularyEntry> | null,
  cue: Found<Cue> | null,
): Piece {
  const useCue = cue !== null && cue.length > (attribute?.length ?? 0);
  const length = useCue ? cue.length : (attribute?.length ?? 1);
  const first = tokens[from];
  const kind = useCue ? 'cue' : attribute === null ? (first?.kind ?? 'mark') : 'attribute';
  return {
    kind,
    text: length === 1 ? (first?.text ?? '') : joinWords(tokens, from, length),
    start: first?.start ?? 0,
    end: tokens[from + length - 1]?.end ?? 0,
    from,
    to: from + length,
    entry: useCue ? null : (attribute?.value ?? null),
    twist: useCue ? null : (attribute?.twist ?? null),
    cue: useCue ? cue.value : null,
    cups: [],
  };
}

function joinWords(tokens: readonly Token[], from: number, length: number): string {
  let text = tokens[from]?.text ?? '';
  for (let i = from + 1; i < from + length; i += 1) text += ` ${tokens[i]?.text ?? ''}`;
  return text;
}
