import { midranks } from '../stats/friedman.js';
import { byWriting, type CountedNote, type Placing } from '../tally/counted.js';

/**
 * What one taster has said about pairs of ratio cups, cups being numbered in the order of the table: at
 * [a × cups + b] 1 when a is better, −1 when worse, 0 when the same, null when never compared.
 */
type Comparisons = { readonly cups: number; readonly signs: (number | null)[] };

/** A placing with cups as numbers; cups that are not ratio cups are left out. */
type NumberedPlacing = {
  readonly order: readonly (readonly number[])[];
  readonly best: number | null;
  readonly worst: number | null;
  readonly likings: readonly (readonly [cup: number, points: number])[];
};

/** "best: D" arrives as an order of one cup. */
function namedBest(order: readonly (readonly string[])[]): string | null {
  const [only, ...others] = order;
  return only?.length === 1 && others.length === 0 ? (only[0] ?? null) : null;
}

/** Numbers the cups of a placing by `numberOf`; null when it says nothing of ratio cups. */
function numberPlacing(placing: Placing, numberOf: ReadonlyMap<string, number>): NumberedPlacing | null {
  const number = (cup: string | null | undefined) => (cup ? (numberOf.get(cup) ?? null) : null);
  const order = placing.order ?? [];
  const best = number(namedBest(order));
  const tiers = order
    .map((tied) => tied.flatMap((cup) => numberOf.get(cup) ?? []))
    .filter((tied) => tied.length > 0);
  const worst = number(placing.worst);
  const likings = Object.entries(placing.liking).flatMap(([cup, points]) => {
    const own = numberOf.get(cup);
    return own === undefined ? [] : [[own, points] as const];
  });
  // "Chirinos > D", a component over one ratio, compares no ratios and is not "best: D" either.
  const compares = tiers.flat().length > 1;
  if (!compares && best === null && worst === null && likings.length === 0) return null;
  return { order: compares ? tiers : [], best, worst, likings };
}

function compare({ cups, signs }: Comparisons, a: number, b: number, sign: number): void {
  if (a === b) return;
  signs[a * cups + b] = sign;
  signs[b * cups + a] = -sign;
}

function applyOrder(comparisons: Comparisons, order: readonly (readonly number[])[]): void {
  const placed = order.flatMap((tied, tier) => tied.map((cup) => ({ cup, tier })));
  placed.forEach((a, index) => {
    for (const b of placed.slice(index + 1)) compare(comparisons, a.cup, b.cup, Math.sign(b.tier - a.tier));
  });
}

function cupsIn({ order, best, worst, likings }: NumberedPlacing): readonly number[] {
  return [...order.flat(), ...likings.map(([cup]) => cup), ...[best, worst].filter((cup) => cup !== null)];
}

/**
 * Everything one taster said, message after message, each pair of cups keeping the latest word about it. Within
 * a message an order outweighs "best" and "worst", and these outweigh likings.
 *
 * @param placings in the order of writing
 * @param noted ratio cups that the taster has noted: "best" and "worst" reach over these and all placed ones
 */
function compareAll(
  cups: number,
  placings: readonly NumberedPlacing[],
  noted: readonly number[],
): Comparisons {
  const comparisons = { cups, signs: new Array<number | null>(cups * cups).fill(null) };
  const known = new Set([...noted, ...placings.flatMap(cupsIn)]);
  const points = new Array<number | null>(cups).fill(null);
  for (const { order, best, worst, likings } of placings) {
    for (const [cup, liking] of likings) points[cup] = liking;
    for (const [cup, liking] of likings) {
      for (let other = 0; other < cups; other += 1) {
        const others = points[other] ?? null;
        if (others !== null) compare(comparisons, cup, other, Math.sign(liking - others));
      }
    }
    if (worst !== null) for (const other of known) compare(comparisons, worst, other, -1);
    if (best !== null) for (const other of known) compare(comparisons, best, other, 1);
    applyOrder(comparisons, order);
  }
  return comparisons;
}

/** One taster's midranks of the ratio cups, in the order of the cups; null where they never placed the cup. */
export type TasterRanks = { readonly taster: string; readonly ranks: readonly (number | null)[] };

/** A cup's place is how many cups are better, cups tied or not compared with it counting half. */
function rankPlaced({ cups, signs }: Comparisons): readonly (number | null)[] {
  const rows = Array.from({ length: cups }, (_, cup) => signs.slice(cup * cups, (cup + 1) * cups));
  const placed = rows.flatMap((row, cup) => (row.some((sign) => sign !== null) ? [cup] : []));
  const placeOf = (cup: number) =>
    placed.reduce((place, other) => (other === cup ? place : place + (1 - (rows[cup]?.[other] ?? 0)) / 2), 0);
  const ranked = midranks(placed.map(placeOf));
  return rows.map((_, cup) => ranked[placed.indexOf(cup)] ?? null);
}

/**
 * Each taster's ranks of the ratio cups. Every message says something about pairs of cups (an order about all its
 * pairs, a liking about every cup the taster has rated, "best: D" about D and every other ratio cup they have
 * noted or placed) and about each pair the latest message counts. A cup never compared is missing, not last; tied
 * cups share midranks.
 *
 * @param cups ids of the ratio cups; anything said of other cups is left out
 * @returns every taster who placed a ratio cup, by id; all ranks are null when they compared none
 */
export function tasterRanks(
  cups: readonly string[],
  notes: readonly CountedNote[],
  placings: readonly Placing[],
): readonly TasterRanks[] {
  const numberOf = new Map(cups.map((cup, number) => [cup, number]));
  const byTaster = new Map<string, NumberedPlacing[]>();
  for (const placing of [...placings].sort(byWriting)) {
    const numbered = numberPlacing(placing, numberOf);
    if (numbered === null) continue;
    const own = byTaster.get(placing.taster) ?? [];
    byTaster.set(placing.taster, own);
    own.push(numbered);
  }
  const notedBy = (taster: string) =>
    notes
      .filter((note) => note.taster === taster)
      .flatMap(({ mentions }) => mentions.flatMap(({ cup }) => numberOf.get(cup) ?? []));
  return [...byTaster]
    .map(([taster, said]) => ({
      taster,
      ranks: rankPlaced(compareAll(cups.length, said, notedBy(taster))),
    }))
    .sort((a, b) => (a.taster < b.taster ? -1 : 1));
}
