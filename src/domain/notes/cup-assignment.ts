import { isConnector } from './boundary.js';
import type { NoteContext } from './note-context.js';
import type { Piece } from './piece.js';

const REFERRING = new Set('than as like unlike vs versus to beside between that which not'.split(' '));
const POINTING = new Set('in for on from at : - \u2014 ( \u2192 ['.split(' '));
const BREAKS = new Set('. ; ! ? | \u2022'.split(' '));

/**
 * The cups that each piece speaks of. A cup named before what is said holds until the next one is named
 * ("C: lemon. D: chocolate"); in a sentence that names cups behind ("lemon in C, chocolate in D") each word
 * belongs to the next cup; a cup that something is only compared with ("sweeter than B") changes nothing.
 * Without any cup named a piece is about the thread's own cup, or none.
 */
export function assignCups(
  pieces: readonly Piece[],
  { homeCup }: NoteContext,
): readonly (readonly string[])[] {
  const assigned: (readonly string[])[] = new Array(pieces.length).fill([]);
  const groups = groupCups(pieces);
  let current: readonly string[] = homeCup === null ? [] : [homeCup];
  let start = 0;
  for (let i = 0; i <= pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece !== undefined && !endsPart(piece)) continue;
    current = assignPart(pieces, start, i, groups, current, assigned);
    start = i + 1;
  }
  return assigned;
}

function endsPart(piece: Piece): boolean {
  return piece.kind === 'break' || (piece.kind === 'mark' && BREAKS.has(piece.text));
}

function assignPart(
  pieces: readonly Piece[],
  start: number,
  end: number,
  groups: readonly (readonly string[] | null)[],
  before: readonly string[],
  assigned: (readonly string[])[],
): readonly string[] {
  let first = -1;
  let mentioned = false;
  for (let i = start; i < end && first < 0; i += 1) {
    if (groups[i] !== null && groups[i] !== undefined) first = i;
    else if (pieces[i]?.kind === 'attribute') mentioned = true;
  }
  if (first < 0) {
    for (let i = start; i < end; i += 1) assigned[i] = before;
    return before;
  }
  const behind = mentioned && namesBehind(pieces, first, end);
  let current = behind ? (groups[first] ?? before) : before;
  if (!behind) {
    for (let i = start; i < end; i += 1) {
      current = groups[i] ?? current;
      assigned[i] = current;
    }
    return current;
  }
  let last = before;
  for (let i = end - 1; i >= start; i -= 1) {
    const group = groups[i] ?? null;
    if (group !== null && last === before) last = group;
  }
  let next = last;
  for (let i = end - 1; i >= start; i -= 1) {
    next = groups[i] ?? next;
    assigned[i] = next;
  }
  return last;
}

/** Whether a cup that follows words of taste is what they are said of: "lemon in C", "lemon (C), …". */
function namesBehind(pieces: readonly Piece[], cup: number, end: number): boolean {
  let before = cup - 1;
  while (pieces[before]?.text === 'the' || pieces[before]?.text === 'cup') before -= 1;
  const pointing = pieces[before];
  if (pointing !== undefined && POINTING.has(pointing.text)) return true;
  let after = cup + 1;
  while (after < end && pieces[after]?.kind === 'cup') after += 1;
  const next = pieces[after];
  return after >= end || next === undefined || next.text === ',' || next.text === ')' || isConnector(next);
}

/**
 * The cups named at each piece, joined over "and", "/" and commas ("C and D: lemon"); null where none is
 * named or where the cup is only what something is compared with.
 */
function groupCups(pieces: readonly Piece[]): readonly (readonly string[] | null)[] {
  const groups: (readonly string[] | null)[] = new Array(pieces.length).fill(null);
  const named: string[] = [];
  for (let i = 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece?.text === 'both' && piece.kind === 'word')
      groups[i] = named.length < 2 ? null : named.slice(-2);
    if (piece?.kind !== 'cup') continue;
    const labels = [...piece.cups];
    const referred = isReferredTo(pieces, i) || isPlaced(pieces, i);
    let end = i;
    for (let next = nextInGroup(pieces, end); next > 0; next = nextInGroup(pieces, end)) {
      if (referred && pieces[end + 1]?.text === ',') break;
      labels.push(...(pieces[next]?.cups ?? []));
      end = next;
    }
    for (let j = i; j <= end; j += 1) groups[j] = referred ? null : labels;
    if (!referred) {
      for (const label of labels) if (named.at(-1) !== label) named.push(label);
    }
    i = end;
  }
  return groups;
}

function nextInGroup(pieces: readonly Piece[], from: number): number {
  const tie = pieces[from + 1];
  if (tie === undefined) return -1;
  if (pieces[from + 2]?.kind === 'cup' && (isConnector(tie) || tie.text === ',')) return from + 2;
  const oxford = tie.text === ',' && pieces[from + 2]?.cue === 'and' && pieces[from + 3]?.kind === 'cup';
  return oxford ? from + 3 : -1;
}

/** "D > E": cups put in order are not what the next words are said of. */
function isPlaced(pieces: readonly Piece[], i: number): boolean {
  const before = isOrderMark(pieces[i - 1]) && pieces[i - 2]?.kind === 'cup';
  return before || (isOrderMark(pieces[i + 1]) && pieces[i + 2]?.kind === 'cup');
}

function isOrderMark(piece: Piece | undefined): boolean {
  return piece?.kind === 'mark' && (piece.text === '>' || piece.text === '<');
}

function isReferredTo(pieces: readonly Piece[], start: number): boolean {
  let i = start - 1;
  while (
    pieces[i]?.text === 'the' ||
    pieces[i]?.text === 'in' ||
    pieces[i]?.text === 'with' ||
    pieces[i]?.text === 'cup'
  )
    i -= 1;
  const before = pieces[i];
  if (before === undefined) return false;
  if (before.cue === 'than' || before.cue === 'equal') return true;
  if (before.text === 'that' || before.text === 'which') {
    const after = pieces[start + 1]?.text;
    return after === 'has' || after === 'had' || after === 'have';
  }
  if (before.text === 'from') return pieces[i - 1]?.text === 'different';
  return REFERRING.has(before.text) || before.text === 'similar to';
}
