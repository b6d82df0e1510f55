import type { DrawBelow } from './seeded-random.js';

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

function swap<Value>(values: Value[], at: number, other: number): void {
  const [one, two] = [values[at], values[other]];
  if (one === undefined || two === undefined) return;
  values[at] = two;
  values[other] = one;
}

/** Puts the values in random order, in place. */
export function shuffle<Value>(values: Value[], drawBelow: DrawBelow): void {
  for (let last = values.length - 1; last > 0; last -= 1) swap(values, last, drawBelow(last + 1));
}

type Scores = { readonly columns: readonly number[]; readonly scores: readonly number[] };

/** Adds scores to the totals of their columns. */
export function addScores(totals: number[], { columns, scores }: Scores): void {
  columns.forEach((column, index) => {
    totals[column] = (totals[column] ?? 0) + (scores[index] ?? 0);
  });
}

/**
 * Every arrangement of the block's scores over its columns is drawn equally often.
 *
 * @returns adds one random arrangement of the scores to the totals
 */
export function rearranger({ columns, scores }: Scores, drawBelow: DrawBelow): (totals: number[]) => void {
  const [one = 0, two = one, ...more] = [...new Set(scores)];
  const timesOf = (score: number) => scores.filter((other) => other === score).length;
  if (two === one || more.length > 0) {
    const shuffled = [...scores];
    return (totals) => {
      shuffle(shuffled, drawBelow);
      addScores(totals, { columns, scores: shuffled });
    };
  }
  // Of two different scores only the rarer one's places need drawing.
  const [rare, common] = timesOf(one) <= timesOf(two) ? [one, two] : [two, one];
  const times = timesOf(rare);
  const ordered = columns.map((_, place) => (place < times ? rare : common));
  const places = [...columns];
  return (totals) => {
    for (let drawn = 0; drawn < times; drawn += 1)
      swap(places, drawn, drawn + drawBelow(places.length - drawn));
    addScores(totals, { columns: places, scores: ordered });
  };
}
