/**
 * Ranks 1..n of the values, the smallest first; equal values share the mean of their ranks (midranks).
 */
export function midranks(values: readonly number[]): readonly number[] {
  // One taster's cups are a dozen: comparing each with each is quicker than sorting them.
  return values.map((value) => {
    let below = 0;
    let level = 0;
    for (const other of values) {
      if (other < value) below += 1;
      else if (other === value) level += 1;
    }
    return below + (level + 1) / 2;
  });
}
