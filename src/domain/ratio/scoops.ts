import { type Parts, shares, smallestParts } from './parts.js';

const MOST_EXACT_SCOOPS = 12;
const MOST_SCOOPS = 400;

/** Whole scoops for a ratio: the fewest within the tolerance, and the exact ones when they are few. */
export type Scoops = {
  /** Scoops of each component, in component order; every coffee of the ratio gets at least one. */
  readonly scoops: readonly number[];
  /** The furthest any share of the scooped cup is from the ratio, in percentage points. */
  readonly worstErrorPoints: number;
  /** The scoops that build the ratio exactly, when twelve or fewer do. */
  readonly exact: Parts | null;
};

/**
 * The fewest whole scoops whose shares are all within `tolerancePoints` of the ratio; among as many
 * scoops, those with the smallest worst error, ties to the first listed.
 *
 * @throws {RangeError} when no scoops up to 400 meet the tolerance
 */
export function scoops(parts: Parts, tolerancePoints: number): Scoops {
  const smallest = smallestParts(parts);
  const exactTotal = smallest.reduce((total, part) => total + part, 0);
  const used = parts.filter((part) => part > 0).length;
  for (let total = Math.max(1, used); total <= MOST_SCOOPS; total += 1) {
    const tried = closestScoops(parts, total);
    const worst = worstErrorPoints(tried, parts);
    if (worst <= tolerancePoints + 1e-9) {
      return {
        scoops: tried,
        worstErrorPoints: worst,
        exact: exactTotal <= MOST_EXACT_SCOOPS ? smallest : null,
      };
    }
  }
  throw new RangeError(
    `No ${MOST_SCOOPS} scoops or fewer come within ${tolerancePoints} points of ${parts.join(':')}.`,
  );
}

/** The furthest a share of the scooped cup is from the ratio, in percentage points. */
function worstErrorPoints(scooped: readonly number[], parts: Parts): number {
  const wanted = shares(parts);
  return Math.max(...shares(scooped).map((share, index) => Math.abs(share - (wanted[index] ?? 0)) * 100));
}

/**
 * `total` scoops with the smallest worst error: scoops are laid one at a time where they hurt least,
 * which is optimal because every coffee's error is convex in its own scoops.
 */
function closestScoops(parts: Parts, total: number): readonly number[] {
  const wanted = shares(parts).map((share) => share * total);
  const laid = wanted.map((want) => (want > 0 ? Math.max(1, Math.floor(want + 1e-9)) : 0));
  const sum = () => laid.reduce((all, count) => all + count, 0);
  while (sum() !== total) {
    const step = sum() < total ? 1 : -1;
    const best = wanted
      .map((want, index) => ({ index, after: (laid[index] ?? 0) + step, want }))
      .filter((entry) => entry.want > 0 && entry.after >= 1)
      .sort((a, b) => Math.abs(a.after - a.want) - Math.abs(b.after - b.want) || a.index - b.index)[0];
    if (best === undefined) break;
    laid[best.index] = best.after;
  }
  return laid;
}
