import { Matrix, pseudoInverse } from 'ml-matrix';
import { byWriting, type Placing } from '../tally/counted.js';

/** One taster's liking of one cup, 1–9. */
export type Liking = { readonly taster: string; readonly cup: string; readonly liking: number };

/** A cup's mean liking with tasters made comparable, and how many rated it. */
export type CupLiking = { readonly cup: string; readonly liking: number; readonly tasters: number };

/** Each taster's latest liking of each cup, by taster and cup. */
export function latestLikings(placings: readonly Placing[]): readonly Liking[] {
  const byTaster = new Map<string, Map<string, number>>();
  for (const { taster, liking } of [...placings].sort(byWriting)) {
    const own = byTaster.get(taster) ?? new Map<string, number>();
    byTaster.set(taster, own);
    for (const [cup, points] of Object.entries(liking)) own.set(cup, points);
  }
  return [...byTaster].flatMap(([taster, own]) => [...own].map(([cup, liking]) => ({ taster, cup, liking })));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** One row for each taster who rated one of the cups, by taster. */
function ratingsByTaster(
  cups: readonly string[],
  likings: readonly Liking[],
): readonly (readonly (number | null)[])[] {
  const given = new Map(likings.map(({ taster, cup, liking }) => [`${taster} ${cup}`, liking]));
  const tasters = [...new Set(likings.map(({ taster }) => taster))].sort();
  return tasters
    .map((taster) => cups.map((cup) => given.get(`${taster} ${cup}`) ?? null))
    .filter((row) => row.some((liking) => liking !== null));
}

/**
 * Mean liking per cup. When everyone rated every cup this is the plain mean. When cups were skipped, a generous
 * taster would lift the cups that they happened to rate, so taster and cup are fitted together by least squares
 * (the intra-block analysis of incomplete blocks; F. Yates, 1936, Annals of Eugenics 7:121–140) and the cups'
 * effects are shown around the mean of the cups' plain means. Cups nobody rated are left out.
 */
export function adjustedLikings(cups: readonly string[], likings: readonly Liking[]): readonly CupLiking[] {
  const named = new Set(likings.map(({ cup }) => cup));
  const rated = cups.filter((cup) => named.has(cup));
  const rows = ratingsByTaster(rated, likings);
  const given = rows.map((row) => row.filter((value) => value !== null));
  const columns = rated.map((_, column) => rows.flatMap((row) => row[column] ?? []));
  const plain = rated.map((cup, column) => {
    const values = columns[column] ?? [];
    return { cup, liking: sum(values) / values.length, tasters: values.length };
  });
  if (given.every((row) => row.length === rated.length)) return plain;
  const information = Matrix.zeros(rated.length, rated.length);
  const totals = new Array<number>(rated.length).fill(0);
  rows.forEach((row, index) => {
    const own = given[index] ?? [];
    const mean = sum(own) / own.length;
    row.forEach((value, a) => {
      if (value === null) return;
      totals[a] = (totals[a] ?? 0) + value - mean;
      row.forEach((other, b) => {
        if (other === null) return;
        information.set(a, b, information.get(a, b) + (a === b ? 1 : 0) - 1 / own.length);
      });
    });
  });
  const effects = pseudoInverse(information).mmul(Matrix.columnVector(totals)).getColumn(0);
  const grand = sum(plain.map(({ liking }) => liking)) / plain.length;
  return plain.map((own, index) => ({ ...own, liking: grand + (effects[index] ?? 0) }));
}
