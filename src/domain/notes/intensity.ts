import type { Piece } from './piece.js';
import type { Rating } from './rating-numbers.js';
import type { Degree } from './reading.js';

const SCALE = 15;
const LOW = 0.4;
const HIGH = 0.8;
const BETWEEN = new Set([':', '-', '=', 'is', 'was', 'at', '(', 'about', 'a', 'solid']);

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
  ratings: readonly Rating[],
): ReadonlyMap<number, { degree: Degree; intensity: number }> {
  const rated = new Map<number, { degree: Degree; intensity: number }>();
  for (const { value, of, from } of ratings) {
    let i = from - 1;
    while (BETWEEN.has(pieces[i]?.text ?? '')) i -= 1;
    if (pieces[i]?.kind !== 'attribute') continue;
    const share = value / of;
    const degree = share <= LOW ? 'slight' : share >= HIGH ? 'strong' : 'plain';
    rated.set(i, { degree, intensity: Math.round(share * SCALE) });
  }
  return rated;
}
