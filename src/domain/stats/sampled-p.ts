import type { PermutationOptions } from './permutation-options.js';

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
