import { longestExact, phraseList, treeOf } from './phrases.js';
import type { Piece } from './piece.js';
import type { Token } from './tokenise.js';

/** What a phrase says of the cups' order. `reversed` lists run from the worst cup to the best. */
const PHRASES = {
  best: phraseList(
    'best, the best, favourite, favorite, fave, fav, my favourite, my favorite, winner, the winner, wins, top, top cup, preferred, i prefer, liked best, like best, liked most, like most, like the most, my pick, number one, no 1, first choice, first place, best overall, best cup, overall favorite, overall favourite, ftw',
  ),
  second: phraseList(
    'second favourite, second favorite, 2nd favourite, 2nd favorite, second best, 2nd best, second choice, 2nd choice, runner up, second place, 2nd place, 2nd fave',
  ),
  worst: phraseList(
    'worst, the worst, least favourite, least favorite, my least favourite, my least favorite, least liked, liked least, like least, least preferred, last place, comes last, came last, is last, bottom, last choice',
  ),
  ranking: phraseList(
    'ranking, ranked, rank, rankings, my ranking, order, my order, placing, placings, order of preference, preference order, best to worst, favourite to least favourite, favorite to least favorite, top to bottom, in order, order is',
  ),
  reversed: phraseList('worst to best, least to most, bottom to top, reverse order'),
  over: phraseList(
    'over, beats, beat, better than, is better than, above, ahead of, nicer than, tops, preferred over, prefer over, wins over, tastier than',
  ),
  under: phraseList('under, below, worse than, is worse than, behind, loses to, beaten by'),
  next: phraseList('then, followed by, and then, after that'),
  tie: phraseList(
    'tied with, ties with, same as, equal to, level with, on par with, as good as, is as good as, just as good as',
  ),
} satisfies Readonly<Record<string, readonly string[]>>;

type PlacingWord = keyof typeof PHRASES;

/** The phrases of placing, laid out for longest match over a note's tokens. */
const PHRASE_TREE = treeOf(PHRASES);

/**
 * What matters of a note for the cups' order, one item for each cup, phrase, number, mark or other word. `text`
 * is its first word; `word` what a phrase says; `cups` the labels of a cup's name.
 */
export type PlacingItem = {
  readonly kind: 'cup' | 'phrase' | 'number' | 'mark' | 'break' | 'attribute' | 'other';
  readonly text: string;
  readonly word: PlacingWord | null;
  readonly cups: readonly string[];
};

/** Cues that name what can be best about a cup: "best body" places no cup. */
const NOUNS = new Set<string>(['body', 'finish', 'smell']);

/** Lays out a note's tokens as items of placing; `pieces` tells which tokens name cups and attributes. */
export function placingItems(tokens: readonly Token[], pieces: readonly Piece[]): readonly PlacingItem[] {
  const pieceAt = new Map(pieces.map((piece) => [piece.from, piece]));
  const wordAt = (i: number) => (tokens[i]?.kind === 'mark' ? null : (tokens[i]?.text ?? null));
  const items: PlacingItem[] = [];
  let next = 0;
  for (const [i, token] of tokens.entries()) {
    if (i < next) continue;
    const { text } = token;
    const piece = pieceAt.get(i);
    const cups = piece?.cups ?? [];
    const phrase = piece?.kind === 'cup' ? null : longestExact(PHRASE_TREE, i, wordAt);
    const kind = phrase === null ? kindOf(token, piece) : 'phrase';
    items.push({ kind, text, word: phrase?.value ?? null, cups });
    next = piece?.kind === 'cup' ? piece.to : i + (phrase?.length ?? 1);
  }
  return items;
}

function kindOf({ kind }: Token, piece: Piece | undefined): PlacingItem['kind'] {
  if (piece?.kind === 'cup') return 'cup';
  if (piece?.kind === 'attribute' || NOUNS.has(piece?.cue ?? '')) return 'attribute';
  return kind === 'number' || kind === 'mark' || kind === 'break' ? kind : 'other';
}
