import type { Piece } from './piece.js';

/** A score written in a note: a value out of a highest, and the pieces it takes up. */
export type Rating = {
  readonly value: number;
  readonly of: number;
  readonly from: number;
  readonly to: number;
};

const HIGHEST = new Set([4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 100]);

/** Finds scores like "4/5", "7.5/10" and "8 out of 9"; never part of a longer run such as "50/30/20". */
export function findRatings(pieces: readonly Piece[]): readonly Rating[] {
  const ratings: Rating[] = [];
  for (let i = 0; i < pieces.length; i += 1) {
    const rating = ratingAt(pieces, i);
    if (rating === null) continue;
    ratings.push(rating);
    i = rating.to - 1;
  }
  return ratings;
}

function ratingAt(pieces: readonly Piece[], i: number): Rating | null {
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
