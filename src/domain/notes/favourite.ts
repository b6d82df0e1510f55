import type { PlacingItem } from './placing-items.js';
import type { PlacingWord } from './placing-words.js';

/** Cups called best, second and worst. */
export type Favourites = {
  readonly best: readonly string[];
  readonly second: readonly string[];
  readonly worst: readonly string[];
};

const AHEAD = new Set(
  'is was are of the today for me cup cups by far so overall would be has to goes my : - = * definitely has'.split(
    ' ',
  ),
);
const BACK = new Set(
  'is was s my the by far definitely as much again still easily clearly probably - : = tastes tasted i liked ( one was , its'.split(
    ' ',
  ),
);
const REFUSED = new Set('not isnt wasnt another third 3rd rd nd th no never'.split(' '));
const TIES = new Set(['and', '&', '/', '=', '+', ',']);
const REACH = 5;

/**
 * The cups a note calls best, second or worst: "best: D", "D was my favourite", and in a cup's own thread
 * "my favourite of the table". "Best body: D" and "not my favourite" say nothing of the kind.
 */
export function readFavourites(items: readonly PlacingItem[], homeCup: string | null): Favourites {
  const named = new Map<PlacingWord, readonly string[]>();
  for (const [i, item] of items.entries()) {
    if (item.kind !== 'phrase' || (item.word !== 'best' && item.word !== 'second' && item.word !== 'worst'))
      continue;
    if (
      items[i + 1]?.kind === 'attribute' ||
      REFUSED.has(items[i - 1]?.text ?? '') ||
      REFUSED.has(items[i - 2]?.text ?? '')
    )
      continue;
    const cups = cupsAhead(items, i) ?? cupsBack(items, i) ?? home(items, i, homeCup);
    if (cups !== null) named.set(item.word, cups);
  }
  return {
    best: named.get('best') ?? [],
    second: named.get('second') ?? [],
    worst: named.get('worst') ?? [],
  };
}

function cupsAhead(items: readonly PlacingItem[], from: number): readonly string[] | null {
  for (let i = from + 1; i <= Math.min(items.length - 1, from + REACH); i += 1) {
    const item = items[i];
    if (item?.kind === 'cup') return groupFrom(items, i);
    if (item === undefined || !AHEAD.has(item.text)) return null;
  }
  return null;
}

function groupFrom(items: readonly PlacingItem[], from: number): readonly string[] {
  const cups: string[] = [];
  for (let i = from; i < items.length; i += 2) {
    const item = items[i];
    if (item?.kind !== 'cup') break;
    cups.push(...item.cups);
    const tie = items[i + 1];
    if (tie === undefined || !TIES.has(tie.text) || (tie.text === ',' && items[i + 3]?.text !== 'and')) break;
  }
  return cups;
}

function cupsBack(items: readonly PlacingItem[], from: number): readonly string[] | null {
  for (let i = from - 1; i >= Math.max(0, from - REACH); i -= 1) {
    const item = items[i];
    if (item?.kind === 'cup') {
      const tied = items[i - 1]?.text === 'and' ? items[i - 2] : undefined;
      return tied?.kind === 'cup' ? [...tied.cups, ...item.cups] : item.cups;
    }
    if (item === undefined || !BACK.has(item.text)) return null;
  }
  return null;
}

/** In a cup's own thread a favourite without any cup named is that cup, when it is called "my" or "the". */
function home(items: readonly PlacingItem[], i: number, homeCup: string | null): readonly string[] | null {
  if (homeCup === null || items.some(({ kind }) => kind === 'cup')) return null;
  const text = items[i]?.text;
  if (text === 'my' || text === 'the' || text === 'worst' || text === 'least') return [homeCup];
  return text === 'best' && items[i + 1]?.text === 'of' ? [homeCup] : null;
}
