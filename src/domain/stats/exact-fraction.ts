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
export function exactFraction(numerator: bigint, denominator: bigint): number {
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
