import { CUES, type Cue } from './cues.js';
import { longestExact, longestOfForms } from './phrases.js';
import type { Token } from './tokenise.js';
import type { Vocabulary } from './vocabulary.js';
import type { VocabularyEntry } from './vocabulary-file.js';
import type { Twist } from './word-forms.js';

/**
 * A stretch of a note that does one thing: it names an attribute, it is a cue, it names cups, or it is a word,
 * number or mark by itself. `from` and `to` count tokens, `start` and `end` offsets of the source. `text` is
 * the folded words, joined by spaces (of a cup's name the first).
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

/** A cup named in the text: the labels, and how many tokens name it. */
export type CupReference = { readonly labels: readonly string[]; readonly length: number };

/** Cuts tokens into pieces: at each place the longest phrase wins, an attribute before a cue of its length. */
export function cutPieces(
  tokens: readonly Token[],
  { phrases, formsOf }: Pick<Vocabulary, 'phrases' | 'formsOf'>,
  cupAt: (index: number) => CupReference | null,
): readonly Piece[] {
  const forms = tokens.map(({ kind, text }) => (kind === 'word' || kind === 'emoji' ? formsOf(text) : null));
  const formsAt = (i: number) => forms[i] ?? null;
  const wordAt = (i: number) => (tokens[i]?.kind === 'word' ? tokens[i].text : null);
  const pieces: Piece[] = [];
  for (let i = 0; i < tokens.length; i = pieces.at(-1)?.to ?? tokens.length) {
    const cup = cupAt(i);
    const attribute = cup === null ? longestOfForms(phrases, i, formsAt) : null;
    const cue = cup === null ? longestExact(CUES, i, wordAt) : null;
    if (cup !== null)
      pieces.push({
        ...pieceOf(tokens, i, cup.length),
        kind: 'cup',
        text: tokens[i]?.text ?? '',
        cups: cup.labels,
      });
    else if (cue !== null && cue.length > (attribute?.length ?? 0))
      pieces.push({ ...pieceOf(tokens, i, cue.length), kind: 'cue', cue: cue.value });
    else if (attribute !== null) {
      const { length, value: entry, twist } = attribute;
      pieces.push({ ...pieceOf(tokens, i, length), kind: 'attribute', entry, twist });
    } else pieces.push(pieceOf(tokens, i, 1));
  }
  return pieces;
}

/** So many tokens as one piece that means nothing yet. */
function pieceOf(tokens: readonly Token[], from: number, length: number): Piece {
  const to = from + length;
  const own = tokens.slice(from, to);
  return {
    kind: own[0]?.kind ?? 'opaque',
    text: own.map(({ text }) => text).join(' '),
    start: own[0]?.start ?? 0,
    end: own.at(-1)?.end ?? 0,
    from,
    to,
    entry: null,
    twist: null,
    cue: null,
    cups: [],
  };
}

const SENTENCE_ENDS = new Set(['.', ';', '!', '?', '\u2026', '\u2014', '\u2022', '|', '(', ')', ':']);
const ITEM_ENDS = new Set([',', '-', '\u00b7', '\u2192', '"']);

/** Whether a piece ends what a person would hear as a sentence: a full stop, a line break, a bracket. */
export function endsSentence({ kind, text }: Piece): boolean {
  return kind === 'break' || kind === 'opaque' || (kind === 'mark' && SENTENCE_ENDS.has(text));
}

/** Whether a piece ends an item of a list: a comma, or anything that ends a sentence. */
export function endsItem(piece: Piece): boolean {
  return endsSentence(piece) || (piece.kind === 'mark' && ITEM_ENDS.has(piece.text));
}

/** "Bitterness", "sweetness", "acidity": nouns that share an adjective, where "and sweet" would stand alone. */
export function isNounOfTaste({ text }: Piece): boolean {
  return text.endsWith('ness') || text === 'acidity';
}

/** "and", "&", "+", "/" and "or": they tie what stands on both sides. */
export function isConnector({ kind, text, cue }: Piece): boolean {
  return cue === 'and' || cue === 'or' || (kind === 'mark' && (text === '&' || text === '+' || text === '/'));
}

/** Cuts pieces where one of them ends a stretch; gives where each stretch begins and ends, empty ones as well. */
export function splitWhere(
  pieces: readonly Piece[],
  ends: (piece: Piece) => boolean,
): readonly { readonly from: number; readonly to: number }[] {
  const stretches: { from: number; to: number }[] = [];
  let from = 0;
  for (const [i, piece] of pieces.entries()) {
    if (!ends(piece)) continue;
    stretches.push({ from, to: i });
    from = i + 1;
  }
  return [...stretches, { from, to: pieces.length }];
}
