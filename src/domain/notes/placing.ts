import { readFavourites } from './favourite.js';
import type { PlacingItem } from './placing-items.js';
import { readNumbered, readRanked } from './placing-lists.js';
import { readPlaced } from './placing-pairs.js';
import type { PlacingWord } from './placing-words.js';

/** The order a note gives, best group first, and the cups it puts below all others. */
export type Placing = {
  readonly order: readonly (readonly string[])[] | null;
  readonly worst: readonly string[];
};

type Tie = 'better' | 'worse' | 'equal' | 'next';

const TIES = new Map<PlacingWord, Tie>([
  ['over', 'better'],
  ['under', 'worse'],
  ['tie', 'equal'],
  ['then', 'next'],
]);
const BETWEEN = new Set(
  'is was a bit little slightly much way far just definitely clearly i put cup by comes came prefer rank first'.split(
    ' ',
  ),
);
const REACH = 5;

/**
 * Reads what a note says of the cups' order: chains ("D > E = A", "D over E"), numbered and ranked lists,
 * and favourites. What comes last in the note is its latest word.
 */
export function readPlacing(items: readonly PlacingItem[], homeCup: string | null): Placing {
  const { best, second, worst: called } = readFavourites(items, homeCup);
  const placed = readPlaced(items);
  const worst = called.length > 0 ? called : placed.last;
  const listed = readNumbered(items) ?? readRanked(items) ?? readChain(items);
  if (listed !== null) return { order: listed, worst };
  if (placed.order.length > 1 || best.length === 0)
    return { order: placed.order.length > 0 ? placed.order : null, worst };
  const rest = second.filter((cup) => !best.includes(cup));
  return { order: rest.length === 0 ? [best] : [best, rest], worst };
}

function readChain(items: readonly PlacingItem[]): readonly (readonly string[])[] | null {
  let last: readonly (readonly string[])[] | null = null;
  let i = 0;
  while (i < items.length) {
    const chain = chainFrom(items, i);
    if (chain.order !== null) last = continued(last, chain.order);
    i = Math.max(i + 1, chain.end);
  }
  return last;
}

/** "E beats D, D beats F" is one order: what begins where the last one ended goes on from there. */
function continued(
  last: readonly (readonly string[])[] | null,
  next: readonly (readonly string[])[],
): readonly (readonly string[])[] {
  const said = new Set(last?.slice(0, -1).flat());
  const goesOn = last?.at(-1)?.join() === next[0]?.join() && !next.flat().some((cup) => said.has(cup));
  return last !== null && goesOn ? [...last, ...next.slice(1)] : next;
}

function chainFrom(
  items: readonly PlacingItem[],
  start: number,
): { order: readonly (readonly string[])[] | null; end: number } {
  const first = items[start];
  if (first?.kind !== 'cup') return { order: null, end: start };
  const groups: string[][] = [[...first.cups]];
  let direction: Tie | null = null;
  let i = start;
  for (let step = tieAfter(items, i); step !== null; step = tieAfter(items, i)) {
    const cup = items[step.at];
    if (cup?.kind !== 'cup') break;
    if (step.tie === 'equal') groups.at(-1)?.push(...cup.cups);
    else if (direction === null || direction === step.tie) {
      direction = step.tie;
      groups.push([...cup.cups]);
    } else break;
    i = step.at;
  }
  const alone = direction === 'next' && !standsAlone(items, start, i);
  const order =
    groups.length < 2 && (groups[0]?.length ?? 0) < 2
      ? null
      : direction === 'worse'
        ? groups.reverse()
        : groups;
  return {
    order: alone || (direction === null && groups.length < 2 && !hasEquals(items, start, i)) ? null : order,
    end: i + 1,
  };
}

function hasEquals(items: readonly PlacingItem[], start: number, end: number): boolean {
  return items
    .slice(start, end)
    .some((item) => item.text === '=' || (item.kind === 'phrase' && item.word === 'tie'));
}

/** "D then E" is an order of liking only when the line says nothing else: it may be an order of tasting. */
function standsAlone(items: readonly PlacingItem[], start: number, end: number): boolean {
  const before = items[start - 1];
  const after = items[end + 1];
  const best = items[start - 2];
  const saysBest =
    (before?.text === 'is' || before?.text === 'was') && best?.kind === 'phrase' && best.word === 'best';
  const opens =
    before === undefined ||
    before.kind === 'break' ||
    before.kind === 'phrase' ||
    before.text === ':' ||
    saysBest;
  return opens && (after === undefined || after.kind === 'break' || after.text === '.');
}

function tieAfter(items: readonly PlacingItem[], from: number): { tie: Tie; at: number } | null {
  let tie: Tie | null = null;
  for (let i = from + 1; i <= Math.min(items.length - 1, from + REACH); i += 1) {
    const item = items[i];
    if (item === undefined) return null;
    if (item.kind === 'cup') return tie === null ? null : { tie, at: i };
    const here = tieOf(item);
    if (here !== null)
      tie = tie === null || here === tie ? here : tie === 'equal' || item.text === '>' ? here : null;
    else if (item.text !== '-' && item.text !== ',' && !BETWEEN.has(item.text)) return null;
    if (here === null && item.text === ',' && tie === null && !nextIsThen(items, i)) return null;
  }
  return null;
}

function nextIsThen(items: readonly PlacingItem[], comma: number): boolean {
  const next = items[comma + 1];
  return next?.kind === 'phrase' && next.word === 'then';
}

function tieOf(item: PlacingItem): Tie | null {
  if (item.kind === 'phrase') return TIES.get(item.word) ?? null;
  if (item.kind !== 'mark') return null;
  return item.text === '>' || item.text === '\u2192'
    ? 'better'
    : item.text === '<'
      ? 'worse'
      : item.text === '='
        ? 'equal'
        : null;
}
