import { type FriedmanResult, friedman } from '../stats/friedman.js';
import { type PermutationOptions, USUAL_PERMUTATIONS } from '../stats/permutation-options.js';
import type { CountedNote, Placing } from '../tally/counted.js';
import { latestWords } from '../tally/latest-words.js';
import { completeRows, rankTable } from '../verdict/rank-table.js';
import { tasterRanks } from '../verdict/taster-ranks.js';
import { type AttributeAgreement, attributeAgreement } from './attribute-agreement.js';

/** How far the tasters of a table agree, naming nobody. */
export type PanelAgreement = {
  /** on the order of the ratios, over those who placed every placed ratio; null below two such tasters */
  readonly placings: {
    /** Kendall's coefficient of concordance, 0..1; null when everyone ties everything */
    readonly w: number | null;
    readonly p: number;
    readonly method: FriedmanResult['method'];
    readonly tasters: number;
    /** tasters whose placing has gaps: in the verdict, not in W, which needs whole rows */
    readonly withGaps: number;
  } | null;
  readonly attributes: readonly AttributeAgreement[];
};

/** What agreement is worked out from: all cups for the attributes, the ratio cups for the order. */
export type PanelInput = {
  readonly cups: readonly string[];
  readonly ratioCups: readonly string[];
  readonly notes: readonly CountedNote[];
  readonly placings: readonly Placing[];
  readonly permutations?: PermutationOptions;
};

/** Kendall's W, corrected for ties, of the placings, and pairwise agreement per attribute. */
export function panelAgreement(input: PanelInput): PanelAgreement {
  const { cups, ratioCups, notes, placings, permutations = USUAL_PERMUTATIONS } = input;
  const table = rankTable(ratioCups, tasterRanks(ratioCups, notes, placings));
  const full = completeRows(table.rows);
  const attributes = attributeAgreement(latestWords(notes), cups);
  if (full.length < 2 || table.ids.length < 2) return { placings: null, attributes };
  const { w, p, method } = friedman(full, permutations);
  const withGaps = table.rows.length - full.length;
  return { placings: { w, p, method, tasters: full.length, withGaps }, attributes };
}
