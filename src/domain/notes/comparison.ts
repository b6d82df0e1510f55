import { endsSentence } from './boundary.js';
import type { Piece } from './piece.js';

/**
 * What comparing words do to each piece: `compared` when the attribute is said only beside another cup,
 * `against` when it is what something is compared with ("more bitter than acidic"), else `none`.
 */
export type Comparison = 'none' | 'compared' | 'against';

/**
 * "More X", "less X", "not as X as", "X-er than" and the superlatives compare. A sentence that speaks of
 * the cup over time ("more bitter as it cooled") or weighs two attributes of one cup against each other
 * ("more lemon than lime") states its first attribute plainly.
 */
export function findComparisons(pieces: readonly Piece[]): readonly Comparison[] {
  const found = new Array<Comparison>(pieces.length).fill('none');
  let start = 0;
  for (let i = 0; i <= pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece !== undefined && !endsSentence(piece)) continue;
    compareSentence(pieces, start, i, found);
    start = i + 1;
  }
  return found;
}

function compareSentence(pieces: readonly Piece[], start: number, end: number, found: Comparison[]): void {
  const overTime = hasCue(pieces, start, end, 'time');
  const than = hasCue(pieces, start, end, 'than');
  let comparing = false;
  let against = false;
  for (let i = start; i < end; i += 1) {
    const piece = pieces[i];
    if (piece === undefined) continue;
    if (piece.cue === 'more' || piece.cue === 'less' || piece.cue === 'most' || piece.cue === 'equal') {
      comparing = !overTime;
      against = false;
    } else if (piece.cue === 'contrast' || piece.text === ',') {
      comparing = false;
      against = false;
    } else if (piece.cue === 'than') {
      against = true;
      comparing = false;
    } else if (piece.kind === 'attribute') {
      const twisted = piece.twist === 'most' || (piece.twist === 'more' && than);
      if (against) {
        found[i] = 'against';
        plainBefore(found, start, i);
      } else if (comparing || (twisted && !overTime)) found[i] = 'compared';
    }
  }
}

function plainBefore(found: Comparison[], start: number, end: number): void {
  for (let i = start; i < end; i += 1) if (found[i] === 'compared') found[i] = 'none';
}

function hasCue(pieces: readonly Piece[], start: number, end: number, cue: Piece['cue']): boolean {
  for (let i = start; i < end; i += 1) if (pieces[i]?.cue === cue) return true;
  return false;
}
