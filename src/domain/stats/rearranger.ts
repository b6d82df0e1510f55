import { shuffle } from './arrangements.js';
import type { DrawBelow } from './seeded-random.js';

type Scores = { readonly columns: readonly number[]; readonly scores: readonly number[] };

/** Puts one random arrangement of a block's scores into the totals. */
type AddTo = (totals: number[]) => void;

function add(totals: number[], column: number, score: number): void {
  totals[column] = (totals[column] ?? 0) + score;
}

/** A block of two different scores only needs places drawn for the rarer one. */
function twoScores({ columns, scores }: Scores, rare: number, common: number, drawBelow: DrawBelow): AddTo {
  const places = [...columns];
  const times = scores.filter((score) => score === rare).length;
  return (totals) => {
    for (const column of places) add(totals, column, common);
    for (let drawn = 0; drawn < times; drawn += 1) {
      const other = drawn + drawBelow(places.length - drawn);
      const column = places[other] ?? 0;
      places[other] = places[drawn] ?? 0;
      places[drawn] = column;
      add(totals, column, rare - common);
    }
  };
}

/** Every arrangement of the block's scores over its columns is drawn equally often. */
export function rearranger(block: Scores, drawBelow: DrawBelow): AddTo {
  const [one = 0, two, ...more] = [...new Set(block.scores)];
  if (two !== undefined && more.length === 0) {
    const ones = block.scores.filter((score) => score === one).length;
    const isRare = 2 * ones <= block.scores.length;
    return isRare ? twoScores(block, one, two, drawBelow) : twoScores(block, two, one, drawBelow);
  }
  const scores = [...block.scores];
  return (totals) => {
    shuffle(scores, drawBelow);
    block.columns.forEach((column, index) => {
      add(totals, column, scores[index] ?? 0);
    });
  };
}
