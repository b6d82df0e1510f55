/** How many cups a taster names rightly when the names are dealt out by luck. */
export type MatchingDistribution = {
  /** counts[k]: of all n! ways, how many name exactly k cups rightly */
  readonly counts: readonly number[];
  /** probability of exactly k right */
  readonly probabilities: readonly number[];
  /** probability of k or more right: the p-value of a taster with k right */
  readonly atLeast: readonly number[];
};

const LARGEST = 18;

function binomialCoefficient(n: number, k: number): number {
  let value = 1;
  for (let i = 1; i <= k; i += 1) value = (value * (n - k + i)) / i;
  return value;
}

/**
 * Distribution of correct matches in a matching exercise: the rencontres numbers C(n, k) × D(n − k), D being
 * the number of derangements (J. Riordan, An Introduction to Combinatorial Analysis, 1958, chapter 3). The
 * mean is 1 for any number of cups.
 *
 * @param cups whole number, 1..18 (18! is the largest factorial that a double holds exactly)
 * @throws {RangeError} outside that range
 */
export function matchingDistribution(cups: number): MatchingDistribution {
  if (!Number.isInteger(cups) || cups < 1 || cups > LARGEST) {
    throw new RangeError(`A matching exercise has 1 to ${LARGEST} cups, got ${cups}.`);
  }
  const derangements = [1, 0];
  for (let n = 2; n <= cups; n += 1) {
    derangements.push((n - 1) * ((derangements[n - 1] ?? 0) + (derangements[n - 2] ?? 0)));
  }
  const counts = Array.from(
    { length: cups + 1 },
    (_, right) => binomialCoefficient(cups, right) * (derangements[cups - right] ?? 0),
  );
  const ways = counts.reduce((sum, count) => sum + count, 0);
  const atLeast = counts.map((_, right) => counts.slice(right).reduce((sum, count) => sum + count, 0) / ways);
  return { counts, probabilities: counts.map((count) => count / ways), atLeast };
}
