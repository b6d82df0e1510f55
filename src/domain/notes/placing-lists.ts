import type { PlacingItem } from './placing-items.js';

const ORDINAL_WORDS = new Map([
  ['first', 1],
  ['second', 2],
  ['third', 3],
  ['fourth', 4],
  ['fifth', 5],
]);
const FILLERS = new Set('st nd rd th place is was cup . ) : # - = the'.split(' '));
const SEPARATORS = new Set([',', '>', '/', 'and', 'then', '-', '|', '\n', '&']);

/**
 * A numbered list of nothing but cups: "1. D 2. E 3. C", "1st D, 2nd E". Null when the numbers do not run
 * from 1 or when words of taste stand between (then it is a list of notes, not an order).
 */
export function readNumbered(items: readonly PlacingItem[]): readonly (readonly string[])[] | null {
  const groups: (readonly string[])[] = [];
  let wanted = 1;
  let i = 0;
  while (i < items.length) {
    const place = placeAt(items[i]);
    if (place === wanted) {
      const cup = nextCup(items, i + 1);
      if (cup !== null) {
        groups.push(cup.cups);
        wanted += 1;
        i = cup.at;
      }
    } else if (items[i]?.kind === 'attribute' && groups.length > 0) return null;
    i += 1;
  }
  return groups.length >= 2 ? groups : null;
}

function placeAt(item: PlacingItem | undefined): number | null {
  if (item?.kind === 'number') return item.value;
  return ORDINAL_WORDS.get(item?.text ?? '') ?? null;
}

function nextCup(
  items: readonly PlacingItem[],
  from: number,
): { cups: readonly string[]; at: number } | null {
  for (let i = from; i < Math.min(items.length, from + 4); i += 1) {
    const item = items[i];
    if (item?.kind === 'cup') return { cups: item.cups, at: i };
    if (item === undefined || !FILLERS.has(item.text)) return null;
  }
  return null;
}

/** A list after a word of ranking: "ranking: D, E, C", "best to worst D E C"; "worst to best" is turned round. */
export function readRanked(items: readonly PlacingItem[]): readonly (readonly string[])[] | null {
  for (const [i, item] of items.entries()) {
    if (item.kind !== 'phrase' || (item.word !== 'ranking' && item.word !== 'reversed')) continue;
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
