import { longestExact } from './phrase-tree.js';
import type { Piece } from './piece.js';
import { PLACING_PHRASES, type PlacingWord } from './placing-words.js';
import type { Token } from './token.js';

/** What matters of a note for the cups' order, one item for each cup, phrase, number, mark or other word. */
export type PlacingItem =
  | { readonly kind: 'cup'; readonly cups: readonly string[]; readonly text: string }
  | { readonly kind: 'phrase'; readonly word: PlacingWord; readonly text: string }
  | { readonly kind: 'number'; readonly value: number; readonly text: string }
  | { readonly kind: 'mark' | 'break' | 'attribute' | 'other'; readonly text: string };

/** Lays out a note's tokens as items of placing; `pieces` tells which tokens name cups and attributes. */
export function placingItems(tokens: readonly Token[], pieces: readonly Piece[]): readonly PlacingItem[] {
  const pieceAt = new Map(pieces.map((piece) => [piece.from, piece]));
  const wordAt = (i: number): string | null => {
    const token = tokens[i];
    return token === undefined || token.kind === 'mark' ? null : token.text;
  };
  const items: PlacingItem[] = [];
  let i = 0;
  while (i < tokens.length) {
    const piece = pieceAt.get(i);
    const text = tokens[i]?.text ?? '';
    if (piece?.kind === 'cup') {
      items.push({ kind: 'cup', cups: piece.cups, text });
      i = piece.to;
      continue;
    }
    const phrase = longestExact(PLACING_PHRASES, i, wordAt);
    if (phrase !== null) {
      items.push({ kind: 'phrase', word: phrase.value, text });
      i += phrase.length;
      continue;
    }
    items.push(otherItem(tokens[i], piece, text));
    i += 1;
  }
  return items;
}

function otherItem(token: Token | undefined, piece: Piece | undefined, text: string): PlacingItem {
  if (
    piece?.kind === 'attribute' ||
    piece?.cue === 'body' ||
    piece?.cue === 'finish' ||
    piece?.cue === 'smell'
  )
    return { kind: 'attribute', text };
  if (token?.kind === 'number') return { kind: 'number', value: Number(text), text };
  if (token?.kind === 'mark') return { kind: 'mark', text };
  if (token?.kind === 'break') return { kind: 'break', text };
  return { kind: 'other', text };
}
