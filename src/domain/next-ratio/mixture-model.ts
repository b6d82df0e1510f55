import { Matrix, QrDecomposition } from 'ml-matrix';

/** One term of a mixture model: the indices of the components multiplied, [0] or [0, 2]. */
export type Term = readonly number[];

/** A fitted Scheffé model. */
export type MixtureModel = {
  readonly terms: readonly Term[];
  readonly coefficients: readonly number[];
  readonly fitted: readonly number[];
  /** residual sum of squares */
  readonly rss: number;
  /** observations less terms */
  readonly dfResidual: number;
  /** root mean square error, standard errors and t; null when there are as many terms as observations */
  readonly rmse: number | null;
  readonly standardErrors: readonly number[] | null;
  readonly t: readonly number[] | null;
  /** centred R², and adjusted; null when the response does not vary or no degrees of freedom are left */
  readonly rSquared: number | null;
  readonly rSquaredAdjusted: number | null;
  /** leverage of each observation, 0..1; 1 means that the model follows it exactly */
  readonly leverages: readonly number[];
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
  model: Pick<MixtureModel, 'terms' | 'coefficients'>,
  shares: readonly number[],
): number {
  return model.terms.reduce(
    (sum, term, index) => sum + (model.coefficients[index] ?? 0) * termValue(shares, term),
    0,
  );
}

/** (X'X)⁻¹ from the triangular factor: its rows' products are what errors and leverages need. */
function inverseOfSquare(design: Matrix, decomposition: QrDecomposition): Matrix {
  const inverse = decomposition.upperTriangularMatrix.subMatrix(0, design.columns - 1, 0, design.columns - 1);
  const solved = new QrDecomposition(inverse).solve(Matrix.eye(design.columns));
  return solved.mmul(solved.transpose());
}

function isDetermined(design: Matrix): boolean {
  if (design.rows < design.columns) return false;
  const { upperTriangularMatrix: upper } = new QrDecomposition(design);
  const diagonal = Array.from({ length: design.columns }, (_, index) => Math.abs(upper.get(index, index)));
  return Math.min(...diagonal) > 1e-9 * Math.max(...diagonal);
}

/**
 * Least squares fit of a Scheffé mixture polynomial, without intercept because shares add to 1 (H. Scheffé, 1958,
 * Journal of the Royal Statistical Society B 20:344–360). R² is centred, as for a model with an intercept. The
 * leave-one-out error is the PRESS residuals' root mean square (D. M. Allen, 1974, Technometrics 16:125–127).
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
  if (!isDetermined(design)) return null;
  const decomposition = new QrDecomposition(design);
  const coefficients = decomposition.solve(Matrix.columnVector([...responses])).getColumn(0);
  const spread = inverseOfSquare(design, decomposition);
  const fitted = points.map((shares) => predict({ terms, coefficients }, shares));
  const residuals = responses.map((response, index) => response - (fitted[index] ?? 0));
  const rss = residuals.reduce((sum, residual) => sum + residual * residual, 0);
  const leverages = points.map((_, index) => {
    const row = design.subMatrix(index, index, 0, terms.length - 1);
    return row.mmul(spread).mmul(row.transpose()).get(0, 0);
  });
  return {
    terms,
    coefficients,
    fitted,
    rss,
    leverages,
    ...errorsOf(rss, points.length, terms.length, coefficients, spread),
    ...explained(rss, responses, terms.length),
    leaveOneOutError: leaveOneOut(residuals, leverages),
  };
}

function errorsOf(
  rss: number,
  observations: number,
  terms: number,
  coefficients: readonly number[],
  spread: Matrix,
) {
  const dfResidual = observations - terms;
  if (dfResidual === 0) return { dfResidual, rmse: null, standardErrors: null, t: null };
  const variance = rss / dfResidual;
  const standardErrors = coefficients.map((_, index) => Math.sqrt(variance * spread.get(index, index)));
  const t = coefficients.map((coefficient, index) => coefficient / (standardErrors[index] ?? 0));
  return { dfResidual, rmse: Math.sqrt(variance), standardErrors, t };
}

function explained(rss: number, responses: readonly number[], terms: number) {
  const mean = responses.reduce((sum, response) => sum + response, 0) / responses.length;
  const total = responses.reduce((sum, response) => sum + (response - mean) ** 2, 0);
  const dfResidual = responses.length - terms;
  if (total === 0 || dfResidual === 0) return { rSquared: null, rSquaredAdjusted: null };
  const unexplained = rss / total;
  return {
    rSquared: 1 - unexplained,
    rSquaredAdjusted: 1 - (unexplained * (responses.length - 1)) / dfResidual,
  };
}

function leaveOneOut(residuals: readonly number[], leverages: readonly number[]): number | null {
  if (leverages.some((leverage) => leverage > 1 - 1e-9)) return null;
  const squares = residuals.reduce(
    (sum, residual, index) => sum + (residual / (1 - (leverages[index] ?? 0))) ** 2,
    0,
  );
  return Math.sqrt(squares / residuals.length);
}
