import { longestExact, phraseList, treeOf, wordSet } from './phrases.js';
import type { Piece } from './piece.js';
import type { Order } from './reading.js';
import type { Token } from './tokenise.js';

/** What a phrase says of the cups' order. `reversed` lists run from the worst cup to the best. */
const PHRASES = {
  best: phraseList(
    'best, the best, favourite, favorite, fave, fav, my favourite, my favorite, winner, the winner, wins, top, top cup, preferred, i prefer, liked best, like best, liked most, like most, like the most, my pick, number one, no 1, first choice, first place, best overall, best cup, overall favorite, overall favourite, ftw',
  ),
  second: phraseList(
    'second favourite, second favorite, 2nd favourite, 2nd favorite, second best, 2nd best, second choice, 2nd choice, runner up, second place, 2nd place, 2nd fave',
  ),
  worst: phraseList(
    'worst, the worst, least favourite, least favorite, my least favourite, my least favorite, least liked, liked least, like least, least preferred, last place, comes last, came last, is last, bottom, last choice',
  ),
  ranking: phraseList(
    'ranking, ranked, rank, rankings, my ranking, order, my order, placing, placings, order of preference, preference order, best to worst, favourite to least favourite, favorite to least favorite, top to bottom, in order, order is',
  ),
  reversed: phraseList('worst to best, least to most, bottom to top, reverse order'),
  over: phraseList(
    'over, beats, beat, better than, is better than, above, ahead of, nicer than, tops, preferred over, prefer over, wins over, tastier than',
  ),
  under: phraseList('under, below, worse than, is worse than, behind, loses to, beaten by'),
  next: phraseList('then, followed by, and then, after that'),
  tie: phraseList(
    'tied with, ties with, same as, equal to, level with, on par with, as good as, is as good as, just as good as',
  ),
} satisfies Readonly<Record<string, readonly string[]>>;

type PlacingWord = keyof typeof PHRASES;

/** The phrases of placing, laid out for longest match over a note's tokens. */
const PHRASE_TREE = treeOf(PHRASES);

/**
 * What matters of a note for the cups' order, one item for each cup, phrase, number, mark or other word. `text`
 * is its first word; `word` what a phrase says; `cups` the labels of a cup's name.
 */
export type PlacingItem = {
  readonly kind: 'cup' | 'phrase' | 'number' | 'mark' | 'break' | 'attribute' | 'other';
  readonly text: string;
  readonly word: PlacingWord | null;
  readonly cups: readonly string[];
};

/** Cues that name what can be best about a cup: "best body" places no cup. */
const NOUNS = new Set<string>(['body', 'finish', 'smell']);

/** Lays out a note's tokens as items of placing; `pieces` tells which tokens name cups and attributes. */
export function placingItems(tokens: readonly Token[], pieces: readonly Piece[]): readonly PlacingItem[] {
  const pieceAt = new Map(pieces.map((piece) => [piece.from, piece]));
  const wordAt = (i: number) => (tokens[i]?.kind === 'mark' ? null : (tokens[i]?.text ?? null));
  const items: PlacingItem[] = [];
  let next = 0;
  for (const [i, token] of tokens.entries()) {
    if (i < next) continue;
    const { text } = token;
    const piece = pieceAt.get(i);
    const cups = piece?.cups ?? [];
    const phrase = piece?.kind === 'cup' ? null : longestExact(PHRASE_TREE, i, wordAt);
    const kind = phrase === null ? kindOf(token, piece) : 'phrase';
    items.push({ kind, text, word: phrase?.value ?? null, cups });
    next = piece?.kind === 'cup' ? piece.to : i + (phrase?.length ?? 1);
  }
  return items;
}

function kindOf({ kind }: Token, piece: Piece | undefined): PlacingItem['kind'] {
  if (piece?.kind === 'cup') return 'cup';
  if (piece?.kind === 'attribute' || NOUNS.has(piece?.cue ?? '')) return 'attribute';
  return kind === 'number' || kind === 'mark' || kind === 'break' ? kind : 'other';
}

const REACH = 4;
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
const FILLERS = wordSet('st nd rd th place is was cup . ) : # - = the');
const SEPARATORS = new Set([',', '>', '/', 'and', 'then', '-', '|', '\n', '&']);

/**
 * A numbered list of nothing but cups: "1. D 2. E 3. C", "1st D, 2nd E". Null when the numbers do not run
 * from 1 or when words of taste stand between (then it is a list of notes, not an order).
 */
export function readNumbered(items: readonly PlacingItem[]): Order | null {
  const groups: (readonly string[])[] = [];
  for (let i = 0; i < items.length; i += 1) {
    const item = items[i];
    if (item === undefined) break;
    const place = item.kind === 'number' ? Number(item.text) : PLACES.get(item.text);
    const cup = place === groups.length + 1 ? nextCup(items, i + 1) : null;
    if (cup !== null) {
      groups.push(items[cup]?.cups ?? []);
      i = cup;
    } else if (place !== groups.length + 1 && item.kind === 'attribute' && groups.length > 0) return null;
  }
  return groups.length >= 2 ? groups : null;
}

function nextCup(items: readonly PlacingItem[], from: number): number | null {
  for (let i = from; i < from + REACH; i += 1) {
    const item = items[i];
    if (item?.kind === 'cup') return i;
    if (item === undefined || !FILLERS.has(item.text)) return null;
  }
  return null;
}

/** A list after a word of ranking: "ranking: D, E, C", "best to worst D E C"; "worst to best" is turned round. */
export function readRanked(items: readonly PlacingItem[]): Order | null {
  for (const [i, item] of items.entries()) {
    if (item.word !== 'ranking' && item.word !== 'reversed') continue;
    const groups = listFrom(items, i + 1);
    if (groups.length >= 2) return item.word === 'reversed' ? groups.reverse() : groups;
  }
  return null;
}

function listFrom(items: readonly PlacingItem[], from: number): (readonly string[])[] {
  const groups: string[][] = [];
  let tied = false;
  for (let i = from; i < items.length; i += 1) {
    const item = items[i];
    if (item === undefined) break;
    if (item.kind === 'cup') {
      if (tied) groups.at(-1)?.push(...item.cups);
      else groups.push([...item.cups]);
      tied = false;
    } else if (item.text === '=' && groups.length > 0) tied = true;
    else if (groups.length === 0 ? i - from > 3 || item.kind === 'attribute' : !SEPARATORS.has(item.text))
      break;
    else if (item.text === '\n' && groups.length > 0 && items[i + 1]?.kind !== 'cup') break;
  }
  return groups;
}

/** Cups with their places behind them: best first, and the cups put last of all. */
type Placed = { readonly order: Order; readonly last: readonly string[] };

const SUFFIXES = new Set(['st', 'nd', 'rd', 'th']);
const BETWEEN = wordSet('is was in came comes my the - =');
const AFTER = wordSet(', . ! ; - ( ) / and & then place choice for but');
const TIES = new Set(['and', '&', '/', '=']);
const LIKED = wordSet('like liked enjoy enjoyed love loved prefer preferred');
/** Cups may be first and second in the order of pouring just as well. */
const SERVED = wordSet(
  'try tried taste tasted tasting had drank drink pour poured serve served start started brew brewed took went',
);
const NOTHING: Placed = { order: [], last: [] };

/**
 * Reads cups each with its place behind it: "E best, D second, F third", "E 1st, D 2nd", "E was my favourite,
 * F least". Nothing unless the places run from the first without a gap, each taken by cups of its own, and
 * no word says that they were places in the pouring.
 */
export function readPlaced(items: readonly PlacingItem[]): Placed {
  if (items.some(({ text }) => SERVED.has(text))) return NOTHING;
  const placed = items.flatMap((item, i) => {
    const place = item.kind === 'cup' ? placeBehind(items, i) : null;
    return place === null ? [] : [{ place, cups: [...tiedBefore(items, i), ...item.cups] }];
  });
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
  if (other?.kind !== 'cup' || !TIES.has(items[cup - 1]?.text ?? '')) return [];
  return [...tiedBefore(items, cup - 2), ...other.cups];
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
function placeOf({ kind, text, word }: PlacingItem, liked: boolean): number | null {
  if (kind === 'number') return Number(text);
  if (kind === 'phrase') return word === 'best' ? 1 : word === 'second' ? 2 : null;
  if (kind !== 'other') return null;
  return liked && text === 'most' ? 1 : (PLACES.get(text) ?? null);
}

function endsPlace(next: PlacingItem | undefined): boolean {
  return next === undefined || next.kind === 'break' || AFTER.has(next.text);
}
