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

/** Puts the values in random order, in place. */
export function shuffle<Value>(values: Value[], drawBelow: DrawBelow): void {
  for (let last = values.length - 1; last > 0; last -= 1) {
    const other = drawBelow(last + 1);
    const one = values[last];
    const two = values[other];
    if (one === undefined || two === undefined) continue;
    values[last] = two;
    values[other] = one;
  }
}

type Scores = { readonly columns: readonly number[]; readonly scores: readonly number[] };

/** Puts one random arrangement of a block's scores into the totals. */
type AddTo = (totals: number[]) => void;

function add(totals: number[], column: number, score: number): void {
  totals[column] = (totals[column] ?? 0) + score;
}

/** A block of two different scores only needs places drawn for the rarer one; the commoner stands in `base`. */
function twoScores(
  { columns, scores }: Scores,
  rare: number,
  common: number,
  drawBelow: DrawBelow,
  base: number[],
): AddTo {
  const places = [...columns];
  const times = scores.filter((score) => score === rare).length;
  for (const column of places) add(base, column, common);
  return (totals) => {
    for (let drawn = 0; drawn < times; drawn += 1) {
      const other = drawn + drawBelow(places.length - drawn);
      const column = places[other] ?? 0;
      places[other] = places[drawn] ?? 0;
      places[drawn] = column;
      add(totals, column, rare - common);
    }
  };
}

/**
 * Every arrangement of the block's scores over its columns is drawn equally often.
 *
 * @param base totals that every drawing starts from: what is the same in all of this block's arrangements is added
 */
export function rearranger(block: Scores, drawBelow: DrawBelow, base: number[]): AddTo {
  const [one = 0, two, ...more] = [...new Set(block.scores)];
  if (two !== undefined && more.length === 0) {
    const ones = block.scores.filter((score) => score === one).length;
    const isRare = 2 * ones <= block.scores.length;
    return isRare ? twoScores(block, one, two, drawBelow, base) : twoScores(block, two, one, drawBelow, base);
  }
  const scores = [...block.scores];
  return (totals) => {
    shuffle(scores, drawBelow);
    block.columns.forEach((column, index) => {
      add(totals, column, scores[index] ?? 0);
    });
  };
}
