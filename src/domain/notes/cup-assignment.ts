import { wordSet } from './phrases.js';
import { isConnector, type Piece, splitWhere } from './piece.js';

const REFERRING = wordSet('than as like unlike vs versus to beside between that which not');
const POINTING = wordSet('in for on from at : - \u2014 ( \u2192 [');
const PASSED_OVER = wordSet('the in with cup');
const BREAKS = wordSet('. ; ! ? | \u2022');

/**
 * The cups that each piece speaks of. A cup named before what is said holds until the next one is named
 * ("C: lemon. D: chocolate"); in a sentence that names cups behind ("lemon in C, chocolate in D") each word
 * belongs to the next cup; a cup that something is only compared with ("sweeter than B") changes nothing.
 * Without any cup named a piece is about the thread's own cup, or none.
 */
export function assignCups(pieces: readonly Piece[], homeCup: string | null): readonly (readonly string[])[] {
  const groups = groupCups(pieces);
  const parts: (readonly string[])[][] = [];
  let current: readonly string[] = homeCup === null ? [] : [homeCup];
  for (const { from, to } of splitWhere(pieces, endsPart)) {
    const part = assignPart(pieces.slice(from, to), groups.slice(from, to), current);
    current = part.at(-1) ?? current;
    parts.push([...part, []]);
  }
  return parts.flat();
}

function endsPart({ kind, text }: Piece): boolean {
  return kind === 'break' || (kind === 'mark' && BREAKS.has(text));
}

/** The cups of each piece of one sentence; `before` holds until a cup is named. */
function assignPart(
  pieces: readonly Piece[],
  groups: readonly (readonly string[] | null)[],
  before: readonly string[],
): readonly (readonly string[])[] {
  const first = groups.findIndex((group) => group !== null);
  const mentioned = pieces.slice(0, Math.max(0, first)).some(({ kind }) => kind === 'attribute');
  const behind = mentioned && namesBehind(pieces, first);
  let current = behind ? (groups.findLast((group) => group !== null) ?? before) : before;
  const hold = (group: readonly string[] | null): readonly string[] => {
    current = group ?? current;
    return current;
  };
  return behind ? groups.toReversed().map(hold).reverse() : groups.map(hold);
}

/** Whether a cup that follows words of taste is what they are said of: "lemon in C", "lemon (C), …". */
function namesBehind(pieces: readonly Piece[], cup: number): boolean {
  let before = cup - 1;
  while (pieces[before]?.text === 'the' || pieces[before]?.text === 'cup') before -= 1;
  if (POINTING.has(pieces[before]?.text ?? '')) return true;
  const next = pieces.slice(cup + 1).find(({ kind }) => kind !== 'cup');
  return next === undefined || next.text === ',' || next.text === ')' || isConnector(next);
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
    if (piece?.text === 'both' && piece.kind === 'word' && named.length >= 2) groups[i] = named.slice(-2);
    if (piece?.kind !== 'cup') continue;
    const labels = [...piece.cups];
    const referred = isReferredTo(pieces, i) || isPlaced(pieces, i);
    let end = i;
    for (let next = nextInGroup(pieces, end); next > 0; next = nextInGroup(pieces, end)) {
      if (referred && pieces[end + 1]?.text === ',') break;
      labels.push(...(pieces[next]?.cups ?? []));
      end = next;
    }
    if (!referred) {
      groups.fill(labels, i, end + 1);
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

function isReferredTo(pieces: readonly Piece[], cup: number): boolean {
  let i = cup - 1;
  while (PASSED_OVER.has(pieces[i]?.text ?? '')) i -= 1;
  const before = pieces[i];
  if (before === undefined) return false;
  if (before.cue === 'than' || before.cue === 'equal') return true;
  if (before.text === 'that' || before.text === 'which')
    return /^(?:has|had|have)$/.test(pieces[cup + 1]?.text ?? '');
  if (before.text === 'from') return pieces[i - 1]?.text === 'different';
  return REFERRING.has(before.text) || before.text === 'similar to';
}
