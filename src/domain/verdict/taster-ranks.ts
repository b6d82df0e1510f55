import { midranks } from '../stats/midranks.js';
import { byWriting, type CountedNote, type Placing } from '../tally/counted.js';
import {
  type Comparisons,
  compareAll,
  type NumberedPlacing,
  numberPlacing,
  reachesOverNoted,
} from './comparisons.js';

/** One taster's midranks of the ratio cups, in the order of the cups; null where they never placed the cup. */
export type TasterRanks = { readonly taster: string; readonly ranks: readonly (number | null)[] };

/** A cup's place is how many cups are better, cups tied or not compared with it counting half. */
function rankPlaced({ cups, better, compared }: Comparisons): readonly (number | null)[] {
  const placed: number[] = [];
  for (let cup = 0; cup < cups; cup += 1) {
    if (compared.subarray(cup * cups, (cup + 1) * cups).includes(1)) placed.push(cup);
  }
  const places = placed.map((cup) => {
    let place = 0;
    for (const other of placed) if (other !== cup) place += (1 - (better[cup * cups + other] ?? 0)) / 2;
    return place;
  });
  const ranked = midranks(places);
  const ranks = new Array<number | null>(cups).fill(null);
  placed.forEach((cup, index) => {
    ranks[cup] = ranked[index] ?? null;
  });
  return ranks;
}

const NOTHING: ReadonlySet<number> = new Set();

/** The ratio cups that each of these tasters noted. */
function notedBy(
  tasters: ReadonlySet<string>,
  notes: readonly CountedNote[],
  numberOf: ReadonlyMap<string, number>,
): ReadonlyMap<string, ReadonlySet<number>> {
  const byTaster = new Map<string, Set<number>>();
  for (const { taster, mentions } of notes) {
    if (!tasters.has(taster)) continue;
    const noted = byTaster.get(taster) ?? new Set<number>();
    byTaster.set(taster, noted);
    for (const { cup } of mentions) {
      const number = numberOf.get(cup);
      if (number !== undefined) noted.add(number);
    }
  }
  return byTaster;
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
  const reaching = [...byTaster].filter(([, said]) => said.some(reachesOverNoted)).map(([taster]) => taster);
  const noted = notedBy(new Set(reaching), notes, numberOf);
  return [...byTaster]
    .map(([taster, said]) => ({
      taster,
      ranks: rankPlaced(compareAll(cups.length, said, noted.get(taster) ?? NOTHING)),
    }))
    .sort((a, b) => (a.taster < b.taster ? -1 : 1));
}
