import type { LatestWords } from '../tally/counted.js';
import { attributesIn, foundBy } from './beside-table.js';

/** How far tasters agree on whether an attribute is in the cups. */
export type AttributeAgreement = {
  readonly attribute: string;
  /** tasters who found it in any cup */
  readonly tasters: number;
  /** share of pairs of tasters, in the same cup, who agree that it is there or that it is not, 0..1 */
  readonly agreement: number;
  /** Fleiss' kappa: agreement beyond chance, 1 at most; null when nobody could disagree */
  readonly kappa: number | null;
};

type CupCount = { readonly found: number; readonly noted: number };

function pairsOf(raters: number): number {
  return (raters * (raters - 1)) / 2;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/**
 * Agreement over cups with two tasters or more, each pair of tasters weighing the same, and Fleiss' kappa from it
 * (J. L. Fleiss, 1971, Psychological Bulletin 76:378–382; with equal numbers of tasters per cup it is his figure).
 *
 * @returns null when no cup was noted by two tasters
 */
export function agreementOn(counts: readonly CupCount[]): { agreement: number; kappa: number | null } | null {
  const shared = counts.filter(({ noted }) => noted > 1);
  if (shared.length === 0) return null;
  const agreeing = shared.map(({ found, noted }) => pairsOf(found) + pairsOf(noted - found));
  const agreement = sum(agreeing) / sum(shared.map(({ noted }) => pairsOf(noted)));
  const share = sum(shared.map(({ found }) => found)) / sum(shared.map(({ noted }) => noted));
  const byChance = share ** 2 + (1 - share) ** 2;
  return { agreement, kappa: byChance === 1 ? null : (agreement - byChance) / (1 - byChance) };
}

/** Agreement per attribute that anyone found, over the given cups; the most agreed first. */
export function attributeAgreement(
  words: LatestWords,
  cups: readonly string[],
): readonly AttributeAgreement[] {
  const attributes = new Set(cups.flatMap((cup) => attributesIn(words, cup)));
  return [...attributes]
    .flatMap((attribute) => {
      const finders = cups.map((cup) => foundBy(words, cup, attribute));
      const tasters = new Set(finders.flat()).size;
      const agreed = agreementOn(
        cups.map((cup, column) => ({
          found: finders[column]?.length ?? 0,
          noted: words.get(cup)?.size ?? 0,
        })),
      );
      return agreed === null || tasters === 0 ? [] : [{ attribute, tasters, ...agreed }];
    })
    .sort((a, b) => (b.kappa ?? -1) - (a.kappa ?? -1) || (a.attribute < b.attribute ? -1 : 1));
}
