import type { PlacingItem } from './placing-items.js';

/** Cups with their places behind them: best first, and the cups put last of all. */
export type Placed = { readonly order: readonly (readonly string[])[]; readonly last: readonly string[] };

const LAST = 100;
const PLACES = new Map([
  ['first', 1],
  ['second', 2],
  ['third', 3],
  ['fourth', 4],
  ['fifth', 5],
  ['sixth', 6],
  ['last', LAST],
  ['least', LAST],
]);
const SUFFIXES = new Set(['st', 'nd', 'rd', 'th']);
const BETWEEN = new Set('is was in came comes my the - ='.split(' '));
const AFTER = new Set(', . ! ; - ( ) / and & then place choice for but'.split(' '));
const TIES = new Set(['and', '&', '/', '=']);
const LIKED = new Set('like liked enjoy enjoyed love loved prefer preferred'.split(' '));
/** Cups may be first and second in the order of pouring just as well. */
const SERVED = new Set(
  'try tried taste tasted tasting had drank drink pour poured serve served start started brew brewed took went'.split(
    ' ',
  ),
);
const REACH = 4;
const NOTHING: Placed = { order: [], last: [] };

/**
 * Reads cups each with its place behind it: "E best, D second, F third", "E 1st, D 2nd", "E was my favourite,
 * F least". Nothing unless the places run from the first without a gap, each taken by cups of its own, and
 * no word says that they were places in the pouring.
 */
export function readPlaced(items: readonly PlacingItem[]): Placed {
  if (items.some(({ text }) => SERVED.has(text))) return NOTHING;
  const placed: { place: number; cups: readonly string[] }[] = [];
  for (const [i, item] of items.entries()) {
    const place = item.kind === 'cup' ? placeBehind(items, i) : null;
    if (item.kind === 'cup' && place !== null)
      placed.push({ place, cups: [...tiedBefore(items, i), ...item.cups] });
  }
  placed.sort((a, b) => a.place - b.place);
  const ranked = placed.filter(({ place }) => place !== LAST);
  const last = placed.slice(ranked.length).flatMap(({ cups }) => cups);
  const cups = placed.flatMap((one) => one.cups);
  const sound = ranked.every(({ place }, i) => place === i + 1) && new Set(cups).size === cups.length;
  return sound && ranked.length > 0 && placed.length > 1
    ? { order: ranked.map((one) => one.cups), last }
    : NOTHING;
}

/** "E and D first": the cup before shares the place. */
function tiedBefore(items: readonly PlacingItem[], cup: number): readonly string[] {
  const other = items[cup - 2];
  return TIES.has(items[cup - 1]?.text ?? '') && other?.kind === 'cup'
    ? [...tiedBefore(items, cup - 2), ...other.cups]
    : [];
}

function placeBehind(items: readonly PlacingItem[], cup: number): number | null {
  for (let i = cup + 1; i <= Math.min(items.length - 1, cup + REACH); i += 1) {
    const item = items[i];
    if (item === undefined) return null;
    if (item.kind === 'number' && !SUFFIXES.has(items[i + 1]?.text ?? '')) return null;
    const end = item.kind === 'number' ? i + 2 : i + 1;
    const place = placeOf(item, LIKED.has(items[cup - 1]?.text ?? ''));
    if (place !== null) return endsPlace(items[end]) ? place : null;
    if (!BETWEEN.has(item.text)) return null;
  }
  return null;
}

/** `liked` says that the cup stands behind a word of liking: "liked E most". */
function placeOf(item: PlacingItem, liked: boolean): number | null {
  if (item.kind === 'number') return item.value;
  if (item.kind === 'phrase') return item.word === 'best' ? 1 : item.word === 'second' ? 2 : null;
  if (item.kind !== 'other') return null;
  return liked && item.text === 'most' ? 1 : (PLACES.get(item.text) ?? null);
}

function endsPlace(next: PlacingItem | undefined): boolean {
  return next === undefined || next.kind === 'break' || AFTER.has(next.text);
}
