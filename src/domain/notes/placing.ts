import { wordSet } from './phrases.js';
import { type PlacingItem, readNumbered, readPlaced, readRanked } from './placing-lists.js';
import type { Order, Reading } from './reading.js';

type Tie = 'better' | 'worse' | 'equal' | 'next';

const TIES = new Map<string, Tie>([
  ['over', 'better'],
  ['>', 'better'],
  ['\u2192', 'better'],
  ['under', 'worse'],
  ['<', 'worse'],
  ['tie', 'equal'],
  ['=', 'equal'],
  ['next', 'next'],
]);
const BETWEEN = wordSet(
  'is was a bit little slightly much way far just definitely clearly i put cup by comes came prefer rank first',
);
const REACH = 5;

/**
 * Reads what a note says of the cups' order: chains ("D > E = A", "D over E"), numbered and ranked lists,
 * and favourites. What comes last in the note is its latest word.
 */
export function readPlacing(
  items: readonly PlacingItem[],
  homeCup: string | null,
): Pick<Reading, 'order' | 'worst'> {
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

function readChain(items: readonly PlacingItem[]): Order | null {
  let last: Order | null = null;
  for (let i = 0; i < items.length; i += 1) {
    const { order, end } = chainFrom(items, i);
    if (order !== null) last = continued(last, order);
    i = end;
  }
  return last;
}

/** "E beats D, D beats F" is one order: what begins where the last one ended goes on from there. */
function continued(last: Order | null, next: Order): Order {
  const said = new Set(last?.slice(0, -1).flat());
  const goesOn = last?.at(-1)?.join() === next[0]?.join() && !next.flat().some((cup) => said.has(cup));
  return last !== null && goesOn ? [...last, ...next.slice(1)] : next;
}

/** The order of cups tied to each other from `start` on, and where the last of them stands. */
function chainFrom(items: readonly PlacingItem[], start: number): { order: Order | null; end: number } {
  const groups = [[...(items[start]?.cups ?? [])]];
  let direction: Tie | null = null;
  let end = start;
  for (let step = tieAfter(items, end); step !== null; step = tieAfter(items, end)) {
    const cups = items[step.at]?.cups ?? [];
    if (step.tie === 'equal') groups.at(-1)?.push(...cups);
    else if (direction === null || direction === step.tie) {
      direction = step.tie;
      groups.push([...cups]);
    } else break;
    end = step.at;
  }
  const alone = direction === 'next' && !standsAlone(items, start, end);
  if (end === start || alone) return { order: null, end };
  return { order: direction === 'worse' ? groups.reverse() : groups, end };
}

/** "D then E" is an order of liking only when the line says nothing else: it may be an order of tasting. */
function standsAlone(items: readonly PlacingItem[], start: number, end: number): boolean {
  const before = items[start - 1];
  const after = items[end + 1];
  const saysBest = (before?.text === 'is' || before?.text === 'was') && items[start - 2]?.word === 'best';
  const opens =
    before === undefined ||
    before.kind === 'break' ||
    before.kind === 'phrase' ||
    before.text === ':' ||
    saysBest;
  return opens && (after === undefined || after.kind === 'break' || after.text === '.');
}

function tieAfter(items: readonly PlacingItem[], from: number): { tie: Tie; at: number } | null {
  if (items[from]?.kind !== 'cup') return null;
  let tie: Tie | null = null;
  for (let i = from + 1; i <= Math.min(items.length - 1, from + REACH); i += 1) {
    const item = items[i];
    if (item === undefined) return null;
    if (item.kind === 'cup') return tie === null ? null : { tie, at: i };
    const here = tieOf(item);
    if (here !== null)
      tie = tie === null || here === tie ? here : tie === 'equal' || item.text === '>' ? here : null;
    else if (item.text !== '-' && item.text !== ',' && !BETWEEN.has(item.text)) return null;
    if (here === null && item.text === ',' && tie === null && items[i + 1]?.word !== 'next') return null;
  }
  return null;
}

function tieOf({ kind, text, word }: PlacingItem): Tie | null {
  return TIES.get(word ?? (kind === 'mark' ? text : '')) ?? null;
}

const AHEAD = wordSet(
  'is was are of the today for me cup cups by far so overall would be has to goes my : - = * definitely has',
);
const BACK = wordSet(
  'is was s my the by far definitely as much again still easily clearly probably - : = tastes tasted i liked ( one was , its',
);
const REFUSED = wordSet('not isnt wasnt another third 3rd rd nd th no never');
const JOINS = new Set(['and', '&', '/', '=', '+', ',']);

/**
 * The cups a note calls best, second or worst: "best: D", "D was my favourite", and in a cup's own thread
 * "my favourite of the table". "Best body: D" and "not my favourite" say nothing of the kind.
 */
function readFavourites(
  items: readonly PlacingItem[],
  homeCup: string | null,
): Readonly<Record<'best' | 'second' | 'worst', readonly string[]>> {
  const named: Record<'best' | 'second' | 'worst', readonly string[]> = { best: [], second: [], worst: [] };
  for (const [i, { word }] of items.entries()) {
    if (word !== 'best' && word !== 'second' && word !== 'worst') continue;
    const refused = REFUSED.has(items[i - 1]?.text ?? '') || REFUSED.has(items[i - 2]?.text ?? '');
    if (refused || items[i + 1]?.kind === 'attribute') continue;
    named[word] = cupsAhead(items, i) ?? cupsBack(items, i) ?? home(items, i, homeCup) ?? named[word];
  }
  return named;
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
  for (let i = from; items[i]?.kind === 'cup'; i += 2) {
    cups.push(...(items[i]?.cups ?? []));
    const join = items[i + 1]?.text ?? '';
    if (!JOINS.has(join) || (join === ',' && items[i + 3]?.text !== 'and')) break;
  }
  return cups;
}

function cupsBack(items: readonly PlacingItem[], from: number): readonly string[] | null {
  for (let i = from - 1; i >= Math.max(0, from - REACH); i -= 1) {
    const item = items[i];
    if (item?.kind === 'cup')
      return items[i - 1]?.text === 'and' ? [...(items[i - 2]?.cups ?? []), ...item.cups] : item.cups;
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
