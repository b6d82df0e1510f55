import { Matrix, QrDecomposition } from 'ml-matrix';

/** One term of a mixture model: the indices of the components multiplied, [0] or [0, 2]. */
export type Term = readonly number[];

/** A fitted Scheffé model. */
export type MixtureModel = {
  readonly terms: readonly Term[];
  readonly coefficients: readonly number[];
  /** root mean square of leave-one-out errors; null when leaving one out leaves the model undetermined */
  readonly leaveOneOutError: number | null;
};

/** Terms of Scheffé's linear blending model: one per component. */
export function linearTerms(components: number): readonly Term[] {
  return Array.from({ length: components }, (_, index) => [index]);
}

/** Terms of Scheffé's quadratic model: linear terms and every product of two components. */
export function quadraticTerms(components: number): readonly Term[] {
  const pairs = Array.from({ length: components }, (_, first) =>
    Array.from({ length: components - first - 1 }, (__, step) => [first, first + step + 1]),
  );
  return [...linearTerms(components), ...pairs.flat()];
}

function termValue(shares: readonly number[], term: Term): number {
  return term.reduce((product, component) => product * (shares[component] ?? 0), 1);
}

/** The model's value at a ratio given as shares that add to 1. */
export function predict(
  { terms, coefficients }: Pick<MixtureModel, 'terms' | 'coefficients'>,
  shares: readonly number[],
): number {
  return terms.reduce((sum, term, index) => sum + (coefficients[index] ?? 0) * termValue(shares, term), 0);
}

function isDetermined({ upperTriangularMatrix: upper }: QrDecomposition): boolean {
  const diagonal = upper.diagonal().map(Math.abs);
  return Math.min(...diagonal) > 1e-9 * Math.max(...diagonal);
}

/**
 * Least squares fit of a Scheffé mixture polynomial, without intercept because shares add to 1 (H. Scheffé, 1958,
 * Journal of the Royal Statistical Society B 20:344–360). The leave-one-out error is the PRESS residuals' root mean
 * square (D. M. Allen, 1974, Technometrics 16:125–127).
 *
 * @param points shares of the components, adding to 1, one row per observation
 * @returns null when the points cannot tell the terms apart
 */
export function fitMixture(
  points: readonly (readonly number[])[],
  responses: readonly number[],
  terms: readonly Term[],
): MixtureModel | null {
  if (points.length === 0 || points.length !== responses.length || terms.length === 0) return null;
  const design = new Matrix(points.map((shares) => terms.map((term) => termValue(shares, term))));
  if (design.rows < design.columns) return null;
  const decomposition = new QrDecomposition(design);
  if (!isDetermined(decomposition)) return null;
  const coefficients = decomposition.solve(Matrix.columnVector([...responses])).getColumn(0);
  const residuals = points.map(
    (shares, index) => (responses[index] ?? 0) - predict({ terms, coefficients }, shares),
  );
  // An observation's leverage, 0..1: 1 means that the model follows it exactly.
  const leverages = decomposition.orthogonalMatrix
    .to2DArray()
    .map((row) => row.reduce((sum, value) => sum + value * value, 0));
  return { terms, coefficients, leaveOneOutError: leaveOneOut(residuals, leverages) };
}

function leaveOneOut(residuals: readonly number[], leverages: readonly number[]): number | null {
  if (leverages.some((leverage) => leverage > 1 - 1e-9)) return null;
  const squares = residuals.reduce(
    (sum, residual, index) => sum + (residual / (1 - (leverages[index] ?? 0))) ** 2,
    0,
  );
  return Math.sqrt(squares / residuals.length);
}
