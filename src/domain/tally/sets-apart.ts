import { type CochranResult, cochranQ, cochranTable, type FoundColumns } from '../stats/cochran-q.js';
import { normalCritical } from '../stats/distributions.js';
import { holm, type PermutationOptions, TALLY_PERMUTATIONS } from '../stats/p-values.js';
import type { LatestWords } from './counted.js';

/** Whether one attribute tells the compared cups apart. */
type AttributeDifference = CochranResult & {
  readonly attribute: string;
  /** adjusted by Holm over the attributes tested */
  readonly pHolm: number;
};

/** What sets one cup apart: an attribute that differs between cups, found in this one more or less than chance. */
type SetApart = {
  readonly attribute: string;
  readonly direction: 'more' | 'less';
  readonly tasters: number;
  readonly noted: number;
  readonly pHolm: number;
};

/** The comparison of all cups of a table, attribute by attribute. */
export type CupDifferences = {
  readonly attributes: readonly AttributeDifference[];
  readonly byCup: ReadonlyMap<string, readonly SetApart[]>;
};

const ALPHA = 0.05;
/** An attribute that fewer people mention, in all cups together, is not tested. */
const FEWEST_TASTERS = 2;

/** Where each attribute was found, by taster. */
function findersByAttribute(
  words: LatestWords,
  cups: readonly string[],
  tasters: readonly string[],
): ReadonlyMap<string, FoundColumns> {
  const numberOf = new Map(tasters.map((taster, number) => [taster, number]));
  const found = new Map<string, (number[] | null)[]>();
  cups.forEach((cup, column) => {
    for (const [taster, said] of words.get(cup) ?? []) {
      const number = numberOf.get(taster) ?? 0;
      for (const [attribute, word] of said.words) {
        if (!word.present) continue;
        const finders = found.get(attribute) ?? new Array<number[] | null>(tasters.length).fill(null);
        if (!found.has(attribute)) found.set(attribute, finders);
        const columns = finders[number] ?? null;
        if (columns === null) finders[number] = [column];
        else columns.push(column);
      }
    }
  });
  return found;
}

/**
 * Which attributes tell the cups apart and which cups they set apart: Cochran's Q per attribute that at least two
 * people mention, Holm's adjustment over those attributes, and for each one below 5 % the cups whose count is
 * further from what chance gives than 95 % of chance (standardised residual). Tasters who skipped a cup are
 * compared on the cups that they noted.
 */
export function cupDifferences(
  words: LatestWords,
  cups: readonly string[],
  options: PermutationOptions = TALLY_PERMUTATIONS,
): CupDifferences {
  const compared = cups.filter((cup) => (words.get(cup)?.size ?? 0) > 0);
  const byCup = new Map<string, SetApart[]>(cups.map((cup) => [cup, []]));
  if (compared.length < 2) return { attributes: [], byCup };
  const tasters = [...new Set(compared.flatMap((cup) => [...(words.get(cup)?.keys() ?? [])]))].sort();
  const table = cochranTable(
    tasters.map((taster) => compared.map((cup) => (words.get(cup)?.has(taster) ? 0 : null))),
  );
  const tests = [...findersByAttribute(words, compared, tasters)]
    .filter(([, finders]) => finders.filter((columns) => columns !== null).length >= FEWEST_TASTERS)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([attribute, finders]) => ({ attribute, ...cochranQ(finders, table, options) }));
  const adjusted = holm(tests.map(({ p }) => p));
  const attributes = tests.map((test, index) => ({ ...test, pHolm: adjusted[index] ?? 1 }));
  for (const { attribute, residuals, columnTotals, pHolm } of attributes) {
    if (pHolm >= ALPHA) continue;
    compared.forEach((cup, column) => {
      const residual = residuals[column] ?? 0;
      if (Math.abs(residual) < normalCritical(ALPHA)) return;
      byCup.get(cup)?.push({
        attribute,
        direction: residual > 0 ? 'more' : 'less',
        tasters: columnTotals[column] ?? 0,
        noted: words.get(cup)?.size ?? 0,
        pHolm,
      });
    });
  }
  for (const list of byCup.values())
    list.sort((a, b) => a.pHolm - b.pHolm || (a.attribute < b.attribute ? -1 : 1));
  return { attributes: attributes.sort((a, b) => a.pHolm - b.pHolm), byCup };
}
