/** How a p-value was found: every arrangement, a seeded sample of them, or the chi-square approximation. */
export type PValueMethod = 'exact' | 'permutation' | 'chi-square';

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
