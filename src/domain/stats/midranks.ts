/**
 * Ranks 1..n of the values, the smallest first; equal values share the mean of their ranks (midranks).
 */
export function midranks(values: readonly number[]): readonly number[] {
  const ascending = values.map((value, index) => ({ value, index })).sort((a, b) => a.value - b.value);
  const ranks = new Array<number>(values.length).fill(0);
  let start = 0;
  while (start < ascending.length) {
    let end = start + 1;
    while (end < ascending.length && ascending[end]?.value === ascending[start]?.value) end += 1;
    for (const { index } of ascending.slice(start, end)) ranks[index] = (start + 1 + end) / 2;
    start = end;
  }
  return ranks;
}
