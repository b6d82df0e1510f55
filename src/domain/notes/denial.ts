import { endsItem, endsSentence, isConnector, type Piece } from './piece.js';

const REACH = 6;
const LIST_REACH = 12;
const QUALITIES = new Set(['mouthfeel', 'body', 'overall']);

/**
 * Which pieces stand inside a denial. A denial reaches to the end of its sentence, a contrast ("but",
 * "just"), a new degree word after what it denied, or six words without anything to deny. It crosses a
 * comma only in a list that ends with "or"; "and" only after "no", "without" and the like.
 */
export function findDenials(pieces: readonly Piece[]): readonly boolean[] {
  const denied = new Array<boolean>(pieces.length).fill(false);
  let open: 'noun' | 'statement' | null = null;
  let hit = false;
  let waited = 0;
  let afterAnd = false;
  for (const [i, piece] of pieces.entries()) {
    if (answersNo(pieces, i)) {
      denyBack(pieces, denied, i);
      open = null;
    } else if (piece.cue === 'deny' || piece.cue === 'denyNot') {
      open = piece.cue === 'deny' ? 'noun' : 'statement';
      hit = false;
      waited = 0;
      afterAnd = false;
    } else if (piece.cue === 'absent' && !isSubject(pieces, i)) {
      denyBack(pieces, denied, i);
      open = null;
    } else if (open === null) {
    } else if (
      endsSentence(piece) ||
      piece.cue === 'contrast' ||
      piece.cue === 'affirm' ||
      piece.cue === 'liking'
    ) {
      open = null;
    } else if (piece.kind === 'mark' && (piece.text === ',' || piece.text === '-')) {
      if (!hit || !listEndsWithOr(pieces, i)) open = null;
    } else if (piece.kind === 'attribute') {
      if (afterAnd && piece.entry !== null && QUALITIES.has(piece.entry.kind)) open = null;
      else {
        denied[i] = true;
        hit = true;
        afterAnd = false;
      }
    } else if (isConnector(piece)) {
      if (piece.cue !== 'or' && piece.text !== '/') {
        if (hit && open === 'statement') open = null;
        afterAnd = hit;
      }
    } else if (hit && piece.cue !== 'transparent' && piece.cue !== 'body' && piece.cue !== 'finish') {
      open = null;
    } else if (!hit) {
      waited += 1;
      if (waited > REACH) open = null;
    }
  }
  return denied;
}

/** "Sour? No.": a denial that stands alone behind a question answers it. */
function answersNo(pieces: readonly Piece[], i: number): boolean {
  const { cue } = pieces[i] ?? {};
  if ((cue !== 'deny' && cue !== 'denyNot') || pieces[i - 1]?.text !== '?') return false;
  const next = pieces[i + 1];
  return next === undefined || endsSentence(next);
}

/** "None stood out": the word begins a statement and denies nothing before it. */
function isSubject(pieces: readonly Piece[], i: number): boolean {
  const next = pieces[i + 1];
  return pieces[i]?.text === 'none' && next !== undefined && !endsSentence(next) && next.text !== ',';
}

function denyBack(pieces: readonly Piece[], denied: boolean[], from: number): void {
  for (let i = from - 1; i >= Math.max(0, from - REACH); i -= 1) {
    const piece = pieces[i];
    if (piece === undefined || (endsSentence(piece) && piece.text !== ':' && piece.text !== '?')) return;
    if (piece.kind === 'attribute') {
      denied[i] = true;
      return;
    }
  }
}

/** Whether the list that goes on after a comma is one of "…, x or y". */
function listEndsWithOr(pieces: readonly Piece[], comma: number): boolean {
  for (let i = comma + 1; i < Math.min(pieces.length, comma + LIST_REACH); i += 1) {
    const piece = pieces[i];
    if (piece === undefined) return false;
    if (piece.cue === 'or') return true;
    const partOfList = piece.kind === 'attribute' || piece.text === ',' || piece.cue === 'transparent';
    if (!partOfList) return false;
  }
  return false;
}

/**
 * Which pieces the taster is unsure of: what follows "maybe", "almost", "kind of" up to the end of the
 * item, and what stands before a question mark in its item.
 */
export function findDoubts(pieces: readonly Piece[]): readonly boolean[] {
  const doubted = new Array<boolean>(pieces.length).fill(false);
  let open = false;
  for (const [i, piece] of pieces.entries()) {
    if (piece.cue === 'doubt') open = true;
    else if (piece.kind === 'attribute') doubted[i] = open;
    else if (piece.text === '?') {
      doubtBack(pieces, doubted, i);
      open = false;
    } else if (endsItem(piece) || piece.cue === 'contrast') open = false;
  }
  return doubted;
}

function doubtBack(pieces: readonly Piece[], doubted: boolean[], from: number): void {
  for (let i = from - 1; i >= 0; i -= 1) {
    const piece = pieces[i];
    if (piece === undefined || doubted[i] === true) return;
    const bracket = i === from - 1 && (piece.text === '(' || piece.text === '?');
    if (!bracket && endsItem(piece)) return;
    if (piece.kind === 'attribute') doubted[i] = true;
  }
}
