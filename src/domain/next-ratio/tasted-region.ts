import { Matrix, pseudoInverse, SingularValueDecomposition } from 'ml-matrix';

const ROUNDING = 1e-9;

/** Tells whether a ratio, given as shares, lies inside the region. */
export type TastedRegion = (shares: readonly number[]) => boolean;

function subsets(items: readonly number[], size: number): readonly (readonly number[])[] {
  if (size === 0) return [[]];
  return items.flatMap((item, index) =>
    subsets(items.slice(index + 1), size - 1).map((rest) => [item, ...rest]),
  );
}

function rankOf(matrix: Matrix): number {
  const values = new SingularValueDecomposition(matrix, { autoTranspose: true }).diagonal;
  const floor = Math.max(...values) * ROUNDING;
  return values.filter((value) => value > floor).length;
}

function columnsOf(points: readonly (readonly number[])[]): Matrix {
  const components = points[0]?.length ?? 0;
  return new Matrix(
    Array.from({ length: components }, (_, component) => points.map((point) => point[component] ?? 0)),
  );
}

function distinct(points: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const byShares = new Map(points.map((point) => [point.map((share) => share.toFixed(9)).join('/'), point]));
  return [...byShares.values()];
}

/**
 * The region between the tasted ratios: their convex hull. A ratio is inside when it is a mix, with no negative
 * amounts, of as many tasted ratios as span the region (C. Carathéodory, 1911): every such group is tried.
 *
 * @param tasted shares of the components, adding to 1; at least one ratio
 */
export function tastedRegion(tasted: readonly (readonly number[])[]): TastedRegion {
  const points = distinct(tasted);
  const span = rankOf(columnsOf(points));
  const groups = subsets(
    points.map((_, index) => index),
    span,
  );
  // There are hundreds of groups and one of the first often does: each is solved when it is first asked.
  const solved = new Map<readonly number[], Corners | null>();
  const cornersOf = (group: readonly number[]) => {
    const known = solved.get(group);
    if (known !== undefined) return known;
    const corners = columnsOf(group.flatMap((index) => [points[index] ?? []]));
    const found = rankOf(corners) === span ? { corners, amounts: pseudoInverse(corners) } : null;
    solved.set(group, found);
    return found;
  };
  return (shares) => {
    const target = Matrix.columnVector([...shares]);
    return groups.some((group) => {
      const found = cornersOf(group);
      return found !== null && isMixOf(found, target);
    });
  };
}

/** Tasted ratios that span the region, and what gives the amounts of each in a ratio. */
type Corners = { readonly corners: Matrix; readonly amounts: Matrix };

function isMixOf({ corners, amounts }: Corners, target: Matrix): boolean {
  const mix = amounts.mmul(target);
  const missed = Matrix.sub(corners.mmul(mix), target).norm('frobenius');
  return missed < ROUNDING && mix.min() > -ROUNDING;
}
