/**
 * Holm's step-down adjustment (S. Holm, 1979, Scandinavian Journal of Statistics 6:65–70): the i-th smallest of m
 * p-values times m − i + 1; adjusted p-values in the order given, each at most 1 and never below one that was smaller before.
 */
export function holm(pValues: readonly number[]): readonly number[] {
  const ascending = pValues.map((p, index) => ({ p, index })).sort((a, b) => a.p - b.p);
  const adjusted = new Array<number>(pValues.length).fill(1);
  let floor = 0;
  ascending.forEach(({ p, index }, step) => {
    floor = Math.max(floor, Math.min(1, p * (pValues.length - step)));
    adjusted[index] = floor;
  });
  return adjusted;
}
