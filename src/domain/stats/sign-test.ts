const KEPT_BITS = 66n;

function bitLength(value: bigint): bigint {
  return BigInt(value.toString(16).length) * 4n;
}

/**
 * The double nearest to numerator / denominator, for whole numbers far beyond what a double holds.
 *
 * @param numerator 0 or more
 * @param denominator 1 or more
 */
function exactFraction(numerator: bigint, denominator: bigint): number {
  if (numerator === 0n) return 0;
  const shift = KEPT_BITS + bitLength(denominator) - bitLength(numerator);
  const scaled = shift > 0n ? numerator << shift : numerator;
  const divisor = shift > 0n ? denominator : denominator << -shift;
  const quotient = scaled / divisor;
  // The last bit records that something was cut off, so that halves round the right way.
  const rounded = quotient * divisor === scaled ? quotient : quotient | 1n;
  const half = Math.trunc(Number(shift) / 2);
  return Number(rounded) * 2 ** -half * 2 ** (half - Number(shift));
}

/**
 * Exact two-sided sign test of paired preferences: the p-value of `wins` against `losses` when every taster
 * is as likely to prefer either cup (the paired preference method of ISO 5495), twice the smaller tail and at
 * most 1. Ties are set aside, as the sign test does; how many there were belongs beside the result.
 *
 * @returns 0 < p ≤ 1; 1 when nobody preferred either
 * @throws {RangeError} when a count is negative or not whole
 */
export function signTest(wins: number, losses: number): number {
  if (!Number.isInteger(wins) || !Number.isInteger(losses) || wins < 0 || losses < 0) {
    throw new RangeError(`Expected whole counts, got ${wins} wins and ${losses} losses.`);
  }
  if (wins === losses) return 1;
  const choices = BigInt(wins + losses);
  let ways = 1n;
  let tail = 1n;
  for (let count = 1n; count <= BigInt(Math.min(wins, losses)); count += 1n) {
    ways = (ways * (choices - count + 1n)) / count;
    tail += ways;
  }
  return exactFraction(2n * tail, 1n << choices);
}
