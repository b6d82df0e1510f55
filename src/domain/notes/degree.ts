import { isShortened } from './modifiers.js';
import { wordSet } from './phrases.js';
import { endsItem, endsSentence, isConnector, isNounOfTaste, type Piece } from './piece.js';
import type { Degree } from './reading.js';

const REACH = 3;
const PRAISE = wordSet('pleasant nice lovely good great pleasing beautiful');
/** Words of level: behind a verb they are said of the attribute before it. */
const LEVELS: ReadonlyMap<string, Degree> = new Map<string, Degree>([
  ['high', 'strong'],
  ['pronounced', 'strong'],
  ['prominent', 'strong'],
  ['low', 'slight'],
  ['minimal', 'slight'],
]);

/** "A lot going on", "so much to unpack": phrases for a complex cup that say how much. */
function isLavish({ text, entry }: Piece): boolean {
  return entry?.name === 'complex' && /^(?:a|lots|so|too|plenty|much) /.test(text);
}

/**
 * The degree that the words around each piece give it. A degree word before an attribute holds over "and",
 * "or" and "/" ("a hint of leather and smoke"), not over a comma or a verb; one behind it ("chocolate
 * undertones", "fruit bomb", "sour!!") reaches back over the same item.
 */
export function findDegrees(pieces: readonly Piece[]): readonly Degree[] {
  const degrees = new Array<Degree>(pieces.length).fill('plain');
  let pending: Degree = 'plain';
  let waited = 0;
  let hit = false;
  for (const [i, piece] of pieces.entries()) {
    if (piece.kind !== 'word' && LEVELS.has(piece.text) && endsClause(pieces[i + 1])) {
      levelBack(pieces, degrees, i);
      pending = 'plain';
    } else if (piece.cue === 'slight' || piece.cue === 'hedged') {
      pending = 'slight';
      waited = 0;
      hit = false;
    } else if (piece.cue === 'strong') {
      if (pieces[i - 1]?.cue !== 'hedged') pending = 'strong';
      waited = 0;
      hit = false;
    } else if (pending !== 'plain' && isPraised(pieces, i)) pending = 'plain';
    else if (piece.kind === 'attribute') {
      if (isShortened(piece)) continue;
      if (piece.twist === 'slight') degrees[i] = 'slight';
      else if (isLavish(piece)) degrees[i] = 'strong';
      else degrees[i] = pending === 'plain' ? sharedLevel(pieces, i) : pending;
      waited = 0;
      hit = true;
    } else if (piece.cue === 'afterSlight') spreadBack(pieces, degrees, i, 'slight');
    else if (piece.cue === 'afterStrong') spreadBack(pieces, degrees, i, 'strong');
    else if (endsItem(piece) || piece.cue === 'contrast' || piece.cue === 'link') {
      if (piece.text === '!' && pieces[i + 1]?.text === '!') spreadBack(pieces, degrees, i, 'strong');
      pending = 'plain';
    } else if (!isConnector(piece) && piece.cue !== 'transparent') {
      waited += 1;
      if (hit || waited > REACH) pending = 'plain';
    }
  }
  return degrees;
}

/** "Low acidity and bitterness": low acidity is an attribute, and its level is the bitterness's as well. */
function sharedLevel(pieces: readonly Piece[], i: number): Degree {
  const piece = pieces[i];
  const tie = pieces[i - 1];
  if (piece === undefined || tie === undefined || !isConnector(tie) || !isNounOfTaste(piece)) return 'plain';
  const [before, noun] = [pieces[i - 3], pieces[i - 2]];
  const phrase = noun?.kind === 'attribute' ? noun : before?.kind === 'attribute' ? before : undefined;
  return LEVELS.get(phrase?.text.split(' ')[0] ?? '') ?? 'plain';
}

/** "Very nice lemon" is very nice, and lemon; "lots of nice lemon" is lots of lemon. */
function isPraised(pieces: readonly Piece[], i: number): boolean {
  const piece = pieces[i];
  const before = pieces[i - 1];
  if (piece?.cue === 'liking') return true;
  return before?.cue === 'strong' && !before.text.endsWith('of') && PRAISE.has(piece?.text ?? '');
}

function spreadBack(pieces: readonly Piece[], degrees: Degree[], from: number, degree: Degree): void {
  for (let i = from - 1; i >= Math.max(0, from - REACH * 2); i -= 1) {
    const piece = pieces[i];
    if (piece === undefined || endsSentence(piece) || endsItem(piece)) return;
    if (piece.kind === 'attribute') degrees[i] = degree;
    else if (!isConnector(piece) && piece.cue !== 'transparent') return;
  }
}

function endsClause(next: Piece | undefined): boolean {
  return next === undefined || endsItem(next) || next.cue === 'contrast' || next.cue === 'and';
}

/** "Bitterness was low", "acidity is not too high": the level is said of the attribute before the verb. */
function levelBack(pieces: readonly Piece[], degrees: Degree[], from: number): void {
  const hedged = pieces[from - 1]?.cue === 'hedged';
  for (let i = from - 1; i >= Math.max(0, from - REACH * 2); i -= 1) {
    const piece = pieces[i];
    if (piece === undefined || endsItem(piece)) return;
    if (piece.kind !== 'attribute') continue;
    degrees[i] = hedged ? 'slight' : (LEVELS.get(pieces[from]?.text ?? '') ?? 'plain');
    return;
  }
}
