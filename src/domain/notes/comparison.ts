import { wordSet } from './phrases.js';
import { endsItem, endsSentence, type Piece, splitWhere } from './piece.js';

/**
 * What comparing words do to each piece: `compared` when the attribute is said only beside another cup,
 * `against` when it is what something is compared with ("more bitter than acidic"), else `none`.
 */
export type Comparison = 'none' | 'compared' | 'against';

const COMPARATIVES = wordSet(
  'darker lighter deeper richer sweeter brighter heavier thinner fuller cleaner smoother stronger drier',
);

/**
 * "More X", "less X", "not as X as", "X-er than" and the superlatives compare. A clause that speaks of the
 * cup over time ("got more bitter", "less acidic as it cooled") or weighs two attributes of one cup against
 * each other ("more lemon than lime") states its first attribute plainly.
 */
export function findComparisons(pieces: readonly Piece[]): readonly Comparison[] {
  const found = new Array<Comparison>(pieces.length).fill('none');
  for (const { from, to } of splitWhere(pieces, endsClause)) compareClause(pieces, from, to, found);
  return found;
}

function endsClause(piece: Piece): boolean {
  return (
    endsSentence(piece) ||
    piece.text === ',' ||
    piece.text === '-' ||
    (piece.cue === 'contrast' && piece.text !== 'then')
  );
}

function compareClause(pieces: readonly Piece[], start: number, end: number, found: Comparison[]): void {
  const than = hasCue(pieces, start, end, 'than');
  const overTime = !than && hasCue(pieces, start, end, 'time');
  let comparing = false;
  let against = false;
  for (let i = start; i < end; i += 1) {
    const piece = pieces[i];
    if (piece === undefined) continue;
    // "More acidic then bitter": a common slip for "than".
    if (piece.text === 'then' && !found.includes('compared', start)) comparing = false;
    else if (piece.cue === 'than' || piece.text === 'then') {
      against = comparesAttribute(pieces, i);
      comparing = false;
    } else if (isComparing(piece)) {
      if (!than && isMoreOfA(pieces, i)) continue;
      comparing = !overTime && pieces[i - 1]?.cue !== 'change';
      against = false;
      if (comparing && standsBehind(pieces, i)) compareBack(pieces, start, i, found);
    } else if (piece.kind === 'attribute') {
      const twisted = piece.twist === 'most' || (than && (piece.twist === 'more' || isComparative(piece)));
      if (against) {
        found[i] = 'against';
        plainBefore(found, start, i);
      } else if (comparing || (twisted && !overTime)) found[i] = 'compared';
    }
  }
}

/** "Than acidic", "than orange sour": not "than B", "than the last one". */
function comparesAttribute(pieces: readonly Piece[], than: number): boolean {
  return (
    pieces[than + 1]?.kind === 'attribute' ||
    (pieces[than + 2]?.kind === 'attribute' && pieces[than + 1]?.kind !== 'cup')
  );
}

function isComparing({ cue }: Piece): boolean {
  return cue === 'more' || cue === 'less' || cue === 'most' || cue === 'equal';
}

/** "More of a plum than a cherry": it says what the cup is, beside no other cup. */
function isMoreOfA(pieces: readonly Piece[], i: number): boolean {
  const article = pieces[i + 2]?.text;
  return pieces[i]?.text === 'more' && pieces[i + 1]?.text === 'of' && (article === 'a' || article === 'an');
}

/** "Darker roast": a phrase of the vocabulary that compares by its first word. */
function isComparative({ text }: Piece): boolean {
  const space = text.indexOf(' ');
  return space > 0 && COMPARATIVES.has(text.slice(0, space));
}

/** "Brings out the fruit more": the comparing word ends its item, so it speaks of what came before. */
function standsBehind(pieces: readonly Piece[], i: number): boolean {
  const next = pieces[i + 1];
  if (next?.cue === 'than') return pieces[i + 2]?.text !== 'it' && pieces[i + 2]?.text !== 'i';
  return next === undefined || endsItem(next) || next.cue === 'contrast';
}

function compareBack(pieces: readonly Piece[], start: number, from: number, found: Comparison[]): void {
  for (let i = from - 1; i >= start; i -= 1) {
    const piece = pieces[i];
    if (piece === undefined || endsItem(piece)) return;
    if (piece.kind === 'attribute') found[i] = 'compared';
  }
}

function plainBefore(found: Comparison[], start: number, end: number): void {
  for (let i = start; i < end; i += 1) if (found[i] === 'compared') found[i] = 'none';
}

function hasCue(pieces: readonly Piece[], start: number, end: number, cue: Piece['cue']): boolean {
  for (let i = start; i < end; i += 1) if (pieces[i]?.cue === cue) return true;
  return false;
}
