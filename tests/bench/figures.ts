/** The value below which this share of the values lies (nearest rank). */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}

/** One figure over several rounds: its median, and how far the rounds lay apart. */
export type Figure = { readonly median: number; readonly low: number; readonly high: number };

export function figure(values: readonly number[]): Figure {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  const median = ((sorted[Math.ceil(middle - 1)] ?? 0) + (sorted[Math.floor(middle)] ?? 0)) / 2;
  return { median, low: sorted[0] ?? Number.NaN, high: sorted.at(-1) ?? Number.NaN };
}

/** How many times the floor (or the other database) something is, by the medians. */
export function times(of: Figure, base: Figure): number {
  return of.median / base.median;
}
