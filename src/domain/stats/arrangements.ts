/** Every distinct order of the values; values that are equal are not told apart. */
export function distinctArrangements(values: readonly number[]): readonly (readonly number[])[] {
  if (values.length === 0) return [[]];
  return [...new Set(values)].flatMap((first) => {
    const rest = [...values];
    rest.splice(rest.indexOf(first), 1);
    return distinctArrangements(rest).map((tail) => [first, ...tail]);
  });
}

/** How many distinct orders the values have. */
export function countArrangements(values: readonly number[]): number {
  const seen = new Map<number, number>();
  let count = 1;
  values.forEach((value, index) => {
    const times = (seen.get(value) ?? 0) + 1;
    seen.set(value, times);
    count = (count * (index + 1)) / times;
  });
  return count;
}

/** Puts the values in random order, in place. */
export function shuffle(values: number[], drawBelow: (below: number) => number): void {
  for (let last = values.length - 1; last > 0; last -= 1) {
    const other = drawBelow(last + 1);
    const kept = values[last] ?? 0;
    values[last] = values[other] ?? 0;
    values[other] = kept;
  }
}
