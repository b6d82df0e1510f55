/** Terms or fractions of an expansion after which it must have come to rest: some thousands of degrees of freedom. */
const MOST_TERMS = 10_000;
/** A change smaller than this, relative to the sum, changes nothing in double precision. */
const AT_REST = 2 ** -53;
/** Stands in for a denominator of 0 in a continued fraction. */
const TINY = 1e-300;

const LANCZOS_G = 607 / 128;
const LANCZOS = [
  0.9999999999999971, 57.15623566586292, -59.59796035547549, 14.136097974741746, -0.4919138160976202,
  3.399464998481189e-5, 4.652362892704858e-5, -9.837447530487956e-5, 0.0001580887032249125,
  -0.00021026444172410488, 0.00021743961811521265, -0.0001643181065367639, 8.441822398385275e-5,
  -2.6190838401581408e-5, 3.6899182659531625e-6,
] as const;

/**
 * ln Γ(x) for x > 0 by the approximation of C. Lanczos (1964, SIAM Journal on Numerical Analysis B 1:86–96), with the
 * coefficients for g = 607/128 of P. Godfrey (2001, A note on the computation of the convergent Lanczos complex Gamma
 * approximation): 15 digits.
 */
export function logGamma(x: number): number {
  const sum = LANCZOS.reduce(
    (total, coefficient, k) => total + (k === 0 ? coefficient : coefficient / (x - 1 + k)),
    0,
  );
  const base = x - 0.5 + LANCZOS_G;
  return (x - 0.5) * Math.log(base) - base + Math.log(Math.sqrt(2 * Math.PI) * sum);
}

/**
 * The value of the continued fraction b₀ + a₁ / (b₁ + a₂ / (b₂ + …)) by the method of W. J. Lentz (1976, Applied
 * Optics 15:668–671) as I. J. Thompson & A. R. Barnett changed it (1986, Journal of Computational Physics 64:490–509).
 *
 * @param termOf aₖ and bₖ for k = 1, 2, …
 * @throws {RangeError} when it does not come to rest
 */
function continuedFraction(b0: number, termOf: (k: number) => readonly [a: number, b: number]): number {
  let value = b0 || TINY;
  let numerator = value;
  let denominator = 0;
  for (let k = 1; k <= MOST_TERMS; k += 1) {
    const [a, b] = termOf(k);
    denominator = 1 / (b + a * denominator || TINY);
    numerator = b + a / numerator || TINY;
    const change = numerator * denominator;
    value *= change;
    if (Math.abs(change - 1) <= AT_REST) return value;
  }
  throw new RangeError('A continued fraction did not come to rest.');
}

/**
 * Regularised incomplete beta function Iₓ(a, b): the probability that a Beta(a, b) share is at most x, and P(X ≥ a) for
 * whole a and X ~ Binomial(a + b − 1, x). By its continued fraction (NIST Digital Library of Mathematical Functions,
 * 8.17.22), from the side on which that comes to rest quickly.
 *
 * @param x 0..1
 * @param a above 0
 * @param b above 0
 */
export function regularisedBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  if (x > (a + 1) / (a + b + 2)) return 1 - (front * betaFraction(1 - x, b, a)) / b;
  return (front * betaFraction(x, a, b)) / a;
}

function betaFraction(x: number, a: number, b: number): number {
  const fraction = continuedFraction(1, (k) => {
    const m = Math.floor(k / 2);
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    return [k % 2 === 0 ? even : odd, 1];
  });
  return 1 / fraction;
}

/**
 * Upper regularised incomplete gamma function Q(a, x), by the series of its complement below a + 1 and by its
 * continued fraction above (NIST Digital Library of Mathematical Functions, 8.11.4 and 8.9.2).
 *
 * @param a above 0
 * @param x 0 or more
 */
export function upperGamma(a: number, x: number): number {
  if (x <= 0) return 1;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x >= a + 1) {
    return front / continuedFraction(x + 1 - a, (k) => [k * (a - k), x + 2 * k + 1 - a]);
  }
  let term = 1 / a;
  let sum = term;
  for (let k = 1; term > sum * AT_REST; k += 1) {
    term *= x / (a + k);
    sum += term;
  }
  return 1 - front * sum;
}

/**
 * P(X ≥ statistic) for X chi-square with `df` degrees of freedom.
 *
 * @param statistic 0 or more
 * @param df 1 or more; 0 means that nothing varies and gives 1
 */
export function chiSquareUpperTail(statistic: number, df: number): number {
  return df <= 0 ? 1 : upperGamma(df / 2, statistic / 2);
}

/**
 * The two-sided standard normal critical value: 1.959963984540054 for alpha 0.05. A first value to three decimals (C.
 * Hastings; Abramowitz & Stegun 1964, 26.2.23) is refined by Halley's method until it rests.
 *
 * @param alpha probability outside ± the returned value, open interval 0..1
 */
export function normalCritical(alpha: number): number {
  const t = Math.sqrt(-2 * Math.log(alpha / 2));
  let z =
    t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  for (let step = 0; step < 4; step += 1) {
    const excess =
      (chiSquareUpperTail(z * z, 1) - alpha) / ((2 * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI));
    z += excess / (1 - (excess * z) / 2);
  }
  return z;
}

/** P(|T| ≥ t) for Student's t with `df` degrees of freedom (Abramowitz & Stegun 1964, 26.7.1). */
function studentTails(t: number, df: number): number {
  return regularisedBeta(df / (df + t * t), df / 2, 1 / 2);
}

/**
 * The two-sided critical value of Student's t: 12.706 for alpha 0.05 and one degree of freedom. The tails fall and
 * curve upwards, so that Newton's method rises to the value from the normal one, which is smaller, without passing it.
 *
 * @param alpha probability outside ± the returned value, open interval 0..1
 * @param df degrees of freedom, above 0
 */
export function studentCritical(alpha: number, df: number): number {
  const peak = Math.exp(logGamma((df + 1) / 2) - logGamma(df / 2)) / Math.sqrt(df * Math.PI);
  let t = normalCritical(alpha);
  for (let step = 0; step < 200; step += 1) {
    const density = peak * (1 + (t * t) / df) ** (-(df + 1) / 2);
    const rise = (studentTails(t, df) - alpha) / (2 * density);
    t += rise;
    if (Math.abs(rise) < t * 1e-15) break;
  }
  return t;
}
