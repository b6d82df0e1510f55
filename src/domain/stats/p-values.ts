import { chiSquareUpperTail } from './distributions.js';

/** How a p-value was found: every arrangement, a seeded sample of them, or the chi-square approximation. */
type PValueMethod = 'exact' | 'permutation' | 'chi-square';

/** A p-value and how it was found. */
export type Tail = { readonly p: number; readonly method: PValueMethod };

/** The approximation for tables with too many arrangements to list or draw. */
export function chiSquareTail(statistic: number, df: number): Tail {
  return { p: chiSquareUpperTail(statistic, df), method: 'chi-square' };
}

/** Limits of the work spent on one p-value. */
export type PermutationOptions = {
  /** seed of the sample: the same table gives the same p-value */
  readonly seed: number;
  /** arrangements drawn when there are too many to list */
  readonly samples: number;
  /** drawing stops once this many are as extreme as the table: p is then large and known well enough */
  readonly enoughExtreme: number;
  /** up to this many tasters the p-value is exact or sampled; above it chi-square is good enough */
  readonly smallTable: number;
  /** additions allowed while listing every arrangement */
  readonly exactWork: number;
};

export const USUAL_PERMUTATIONS: PermutationOptions = {
  seed: 8587,
  samples: 9999,
  enoughExtreme: Number.POSITIVE_INFINITY,
  smallTable: 40,
  exactWork: 150_000,
};

/** For the many tests of one tally: the p-values that matter there are small, and those are sampled in full. */
export const TALLY_PERMUTATIONS: PermutationOptions = {
  ...USUAL_PERMUTATIONS,
  samples: 2999,
  enoughExtreme: 20,
  exactWork: 5000,
};

/** For callers that want a statistic and no p-value beyond the chi-square one. */
export const CHI_SQUARE_ONLY: PermutationOptions = { ...USUAL_PERMUTATIONS, smallTable: 0, exactWork: 0 };

/**
 * A p-value from drawn arrangements of a table. The table itself counts as one of them, which keeps the p-value
 * valid (B. Phipson & G. K. Smyth, 2010, Statistical Applications in Genetics and Molecular Biology 9:39). When
 * drawing stops early, p is the share as extreme so far, which is valid as well (J. Besag & P. Clifford, 1991,
 * Biometrika 78:301–304).
 *
 * @param isExtreme draws one arrangement and says whether it is as extreme as the table
 */
export function sampledP(
  isExtreme: () => boolean,
  { samples, enoughExtreme }: Pick<PermutationOptions, 'samples' | 'enoughExtreme'>,
): number {
  let extreme = 0;
  for (let drawn = 1; drawn <= samples; drawn += 1) {
    if (isExtreme()) extreme += 1;
    if (extreme >= enoughExtreme) return extreme / drawn;
  }
  return (extreme + 1) / (samples + 1);
}

/**
 * Holm's step-down adjustment (S. Holm, 1979, Scandinavian Journal of Statistics 6:65–70): the i-th smallest of m
 * p-values times m − i + 1; adjusted p-values in the order given, each at most 1 and never below one that was smaller before.
 */
export function holm(pValues: readonly number[]): readonly number[] {
  const ascending = pValues.map((p, index) => ({ p, index })).sort((a, b) => a.p - b.p);
  const adjusted = new Array<number>(pValues.length).fill(1);
  let floor = 0;
  ascending.forEach(({ p, index }, step) => {
    floor = Math.max(floor, Math.min(1, p * (pValues.length - step)));
    adjusted[index] = floor;
  });
  return adjusted;
}
