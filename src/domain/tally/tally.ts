import { type PermutationOptions, TALLY_PERMUTATIONS } from '../stats/p-values.js';
import type { AttributeTree, CountedNote } from './counted.js';
import { type CupTally, tallyCup } from './cup-tally.js';
import { type LatestWords, latestWords } from './latest-words.js';
import { type CupDifferences, cupDifferences } from './sets-apart.js';

/** What a table found: each cup's tally in the order of the cups, and what sets cups apart. */
export type TableTally = {
  readonly cups: readonly CupTally[];
  readonly setsApart: CupDifferences;
  /** distinct tasters who noted any of the cups */
  readonly tasters: number;
};

/** What is counted: the cups to report, every counted note, and the vocabulary's tree. */
export type TallyInput = {
  readonly cups: readonly string[];
  readonly notes: readonly CountedNote[];
  readonly tree: AttributeTree;
  readonly permutations?: PermutationOptions;
};

/**
 * Tallies a table from its notes: per cup and attribute the distinct tasters who stand by it now (once per
 * taster, the latest word counting), with denials apart and families rolled up by distinct taster. The answer is
 * the same whatever the order of the notes.
 */
export function tallyTable({ notes, ...input }: TallyInput): TableTally {
  return tallyWords({ ...input, words: latestWords(notes) });
}

/** The same from each taster's latest words, for a caller that needs them for more than the tally. */
export function tallyWords({
  cups,
  words,
  tree,
  permutations = TALLY_PERMUTATIONS,
}: Omit<TallyInput, 'notes'> & { readonly words: LatestWords }): TableTally {
  const tasters = new Set(cups.flatMap((cup) => [...(words.get(cup)?.keys() ?? [])]));
  return {
    cups: cups.map((cup) => tallyCup(cup, words.get(cup) ?? new Map(), tree)),
    setsApart: cupDifferences(words, cups, permutations),
    tasters: tasters.size,
  };
}
