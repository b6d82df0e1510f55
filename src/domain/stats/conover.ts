import betainc from '@stdlib/math-base-special-betainc';
import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import { countArrangements } from './arrangements.js';
import { type FriedmanResult, friedman } from './friedman.js';
import { midranks } from './midranks.js';
import { CHI_SQUARE_ONLY } from './permutation-options.js';

/** Conover's companions of Friedman's test, which allow for ties. */
export type ConoverResult = {
  /** F version of the Friedman statistic; infinite when everyone agrees wholly */
  readonly f: number;
  readonly p: number;
  /** rank sums that differ by more than this differ at `alpha`, ties taken into account */
  readonly leastDifference: number;
};

/** P(F ≥ f) with d1 and d2 degrees of freedom. */
function fUpperTail(f: number, d1: number, d2: number): number {
  return betainc(d2 / (d2 + d1 * f), d2 / 2, d1 / 2);
}

/**
 * The F statistic T₂ = (n − 1) χ² / (n (k − 1) − χ²) on k − 1 and (n − 1)(k − 1) degrees of freedom, and the least
 * significant difference of rank sums t × √(2 (n A − Σ R²) / ((n − 1)(k − 1))), A being the sum of squared ranks
 * (W. J. Conover, Practical Nonparametric Statistics, 3rd ed. 1999, section 5.8).
 *
 * @param rows one row per taster, lower is better, none missing
 * @param known Friedman's test of the same rows, when it is at hand
 * @returns null when fewer than two tasters placed them, or everyone ties everything
 */
export function conover(
  rows: readonly (readonly number[])[],
  alpha = 0.05,
  known: FriedmanResult | null = null,
): ConoverResult | null {
  const tasters = rows.length;
  if (tasters < 2) return null;
  // Only the statistic is wanted, so no work is spent on a p-value.
  const { statistic, df, rankSums } = known ?? friedman(rows, CHI_SQUARE_ONLY);
  if (statistic === null) return null;
  const dfError = (tasters - 1) * df;
  const squares = rows.flatMap(midranks).reduce((sum, rank) => sum + rank * rank, 0);
  const apart = rankSums.reduce((sum, rankSum) => sum + rankSum * rankSum, 0);
  const disagreement = tasters * squares - apart;
  if (disagreement === 0) {
    // Everyone ranks alike: the chance that all the others repeat the first taster's order.
    const orders = countArrangements(rows[0] ?? []);
    return { f: Number.POSITIVE_INFINITY, p: orders ** (1 - tasters), leastDifference: 0 };
  }
  const f = ((tasters - 1) * statistic) / (tasters * df - statistic);
  const leastDifference = tQuantile(1 - alpha / 2, dfError) * Math.sqrt((2 * disagreement) / dfError);
  return { f, p: fUpperTail(f, df, dfError), leastDifference };
}
