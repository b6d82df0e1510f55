import { midranks } from '../stats/midranks.js';
import { byWriting, type CountedNote, type Placing } from '../tally/counted.js';

/** One taster's midranks of the ratio cups, in the order of the cups; null where they never placed the cup. */
export type TasterRanks = { readonly taster: string; readonly ranks: readonly (number | null)[] };

/** cup → other cup → how much better (> 0) or worse (< 0) the first is; absent when never compared. */
type Comparisons = Map<string, Map<string, number>>;

function compare(comparisons: Comparisons, a: string, b: string, better: number): void {
  for (const [cup, other, sign] of [
    [a, b, better],
    [b, a, -better],
  ] as const) {
    const row = comparisons.get(cup) ?? new Map<string, number>();
    comparisons.set(cup, row);
    row.set(other, sign);
  }
}

function applyLikings(comparisons: Comparisons, likings: Map<string, number>, placing: Placing): void {
  const given = Object.entries(placing.liking);
  for (const [cup, liking] of given) likings.set(cup, liking);
  for (const [cup, liking] of given) {
    for (const [other, otherLiking] of likings) {
      if (other !== cup) compare(comparisons, cup, other, Math.sign(liking - otherLiking));
    }
  }
}

function applyOrder(comparisons: Comparisons, order: readonly (readonly string[])[]): void {
  const placed = order.flatMap((tied, position) => tied.map((cup) => ({ cup, position })));
  placed.forEach((a, index) => {
    for (const b of placed.slice(index + 1)) {
      if (a.cup !== b.cup) compare(comparisons, a.cup, b.cup, Math.sign(b.position - a.position));
    }
  });
}

function applyExtreme(
  comparisons: Comparisons,
  cup: string,
  known: ReadonlySet<string>,
  better: number,
): void {
  for (const other of known) if (other !== cup) compare(comparisons, cup, other, better);
}

/** "best: D" arrives as an order of one cup. */
function namedBest(placing: Placing): string | null {
  const [only, ...others] = placing.order ?? [];
  return only?.length === 1 && others.length === 0 ? (only[0] ?? null) : null;
}

function cupsIn(placing: Placing): readonly string[] {
  const worst = placing.worst ?? null;
  return [
    ...(placing.order ?? []).flat(),
    ...Object.keys(placing.liking),
    ...(worst === null ? [] : [worst]),
  ];
}

function compareAll(placings: readonly Placing[], noted: ReadonlySet<string>): Comparisons {
  const known = new Set([...noted, ...placings.flatMap(cupsIn)]);
  const comparisons: Comparisons = new Map();
  const likings = new Map<string, number>();
  for (const placing of placings) {
    applyLikings(comparisons, likings, placing);
    if (placing.worst) applyExtreme(comparisons, placing.worst, known, -1);
    const best = namedBest(placing);
    if (best !== null) applyExtreme(comparisons, best, known, 1);
    else applyOrder(comparisons, placing.order ?? []);
  }
  return comparisons;
}

/** A cup's place is how many cups are better, cups tied or not compared with it counting half. */
function rankPlaced(comparisons: Comparisons, cups: readonly string[]): readonly (number | null)[] {
  const placed = cups.filter((cup) => comparisons.has(cup));
  const places = placed.map((cup) => {
    const others = placed.filter((other) => other !== cup);
    return others.reduce((sum, other) => sum + (1 - (comparisons.get(cup)?.get(other) ?? 0)) / 2, 0);
  });
  const ranks = midranks(places);
  const rankOf = new Map(placed.map((cup, index) => [cup, ranks[index] ?? 0]));
  return cups.map((cup) => rankOf.get(cup) ?? null);
}

function only(placing: Placing, cups: ReadonlySet<string>): Placing {
  const kept = (placing.order ?? []).map((tied) => tied.filter((cup) => cups.has(cup)));
  const order = kept.filter((tied) => tied.length > 0);
  // "Chirinos > D", a component over one ratio, must not turn into "best: D" when the component is left out.
  const meansBest = namedBest(placing) !== null || order.flat().length > 1;
  const worst = placing.worst ?? null;
  return {
    ...placing,
    order: order.length > 0 && meansBest ? order : null,
    liking: Object.fromEntries(Object.entries(placing.liking).filter(([cup]) => cups.has(cup))),
    worst: worst !== null && cups.has(worst) ? worst : null,
  };
}

/**
 * Each taster's ranks of the ratio cups. Every message says something about pairs of cups (an order about all its
 * pairs, a liking about every cup the taster has rated, "best: D" about D and every other ratio cup they have
 * noted or placed) and about each pair the latest message counts. Within one message an order outweighs "best" and
 * "worst", and these outweigh likings. A cup never compared is missing, not last; tied cups share midranks.
 *
 * @param cups ids of the ratio cups; anything said of other cups is left out
 * @returns every taster who placed a ratio cup, by id; all ranks are null when they compared none
 */
export function tasterRanks(
  cups: readonly string[],
  notes: readonly CountedNote[],
  placings: readonly Placing[],
): readonly TasterRanks[] {
  const ratioCups = new Set(cups);
  const notedBy = new Map<string, Set<string>>();
  for (const { taster, mentions } of notes) {
    const noted = notedBy.get(taster) ?? new Set<string>();
    notedBy.set(taster, noted);
    for (const { cup } of mentions) if (ratioCups.has(cup)) noted.add(cup);
  }
  const placingsBy = new Map<string, Placing[]>();
  for (const placing of [...placings].sort(byWriting)) {
    const own = only(placing, ratioCups);
    if (cupsIn(own).length === 0) continue;
    placingsBy.set(placing.taster, [...(placingsBy.get(placing.taster) ?? []), own]);
  }
  return [...placingsBy]
    .map(([taster, said]) => ({
      taster,
      ranks: rankPlaced(compareAll(said, notedBy.get(taster) ?? new Set()), cups),
    }))
    .sort((a, b) => (a.taster < b.taster ? -1 : 1));
}
