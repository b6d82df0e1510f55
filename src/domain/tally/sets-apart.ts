import { type CochranResult, cochranQ } from '../stats/cochran-q.js';
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
  const said = tasters.map((taster) => compared.map((cup) => words.get(cup)?.get(taster)));
  const mentioned = new Set(said.flat().flatMap((own) => [...(own?.words.keys() ?? [])]));
  const tests = [...mentioned]
    .sort()
    .map((attribute) => ({
      attribute,
      rows: said.map((row) =>
        row.map((own) => (own === undefined ? null : own.words.get(attribute)?.present ? 1 : 0)),
      ),
    }))
    .filter(({ rows }) => rows.filter((row) => row.includes(1)).length >= FEWEST_TASTERS)
    .map(({ attribute, rows }) => ({ attribute, ...cochranQ(rows, options) }));
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
        pHolm,
      });
    });
  }
  for (const list of byCup.values())
    list.sort((a, b) => a.pHolm - b.pHolm || (a.attribute < b.attribute ? -1 : 1));
  return { attributes: attributes.sort((a, b) => a.pHolm - b.pHolm), byCup };
}
