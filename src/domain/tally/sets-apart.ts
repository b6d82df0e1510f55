import type { SparseRows } from '../stats/canonical-rows.js';
import { cochranQ } from '../stats/cochran-q.js';
import { holm } from '../stats/holm.js';
import { normalCritical } from '../stats/normal.js';
import {
  type PermutationOptions,
  type PValueMethod,
  TALLY_PERMUTATIONS,
} from '../stats/permutation-options.js';
import type { LatestWords } from './latest-words.js';

/** Whether one attribute tells the compared cups apart. */
type AttributeDifference = {
  readonly attribute: string;
  /** Cochran's Q, null when nobody tells any cup from another by it */
  readonly q: number | null;
  readonly df: number;
  readonly p: number;
  /** adjusted by Holm over the attributes tested */
  readonly pHolm: number;
  readonly method: PValueMethod;
};

/** What sets one cup apart: an attribute that differs between cups, found in this one more or less than chance. */
type SetApart = {
  readonly attribute: string;
  readonly direction: 'more' | 'less';
  readonly tasters: number;
  readonly noted: number;
  readonly pHolm: number;
};

/** Who took part in the comparison. Nobody is dropped: a taster counts on the cups that they noted. */
type ComparedTasters = {
  /** noted every compared cup */
  readonly complete: number;
  /** noted two or more, but not all: compared on those */
  readonly partial: number;
  /** noted one: in the shares, but unable to compare */
  readonly alone: number;
};

/** The comparison of all cups of a table, attribute by attribute. */
export type CupDifferences = {
  readonly compared: readonly string[];
  readonly tasters: ComparedTasters;
  readonly attributes: readonly AttributeDifference[];
  readonly byCup: ReadonlyMap<string, readonly SetApart[]>;
};

const ALPHA = 0.05;
/** An attribute that fewer people mention, in all cups together, is not tested. */
const FEWEST_TASTERS = 2;

function tastersOf(words: LatestWords, cups: readonly string[]): readonly string[] {
  return [...new Set(cups.flatMap((cup) => [...(words.get(cup)?.keys() ?? [])]))].sort();
}

/** Which cups each taster noted, and where each attribute was found: what the tests of all attributes share. */
type FoundTable = {
  /** one row per taster: 0 where they noted the cup, null where they did not */
  readonly noted: SparseRows;
  /** attribute → [taster, cup] pairs where it was found */
  readonly found: ReadonlyMap<string, readonly (readonly [taster: number, cup: number])[]>;
};

function foundTable(words: LatestWords, cups: readonly string[], tasters: readonly string[]): FoundTable {
  const numberOf = new Map(tasters.map((taster, number) => [taster, number]));
  const found = new Map<string, [number, number][]>();
  cups.forEach((cup, column) => {
    for (const [taster, said] of words.get(cup) ?? []) {
      for (const [attribute, word] of said.words) {
        if (!word.present) continue;
        const pairs = found.get(attribute) ?? [];
        found.set(attribute, pairs);
        pairs.push([numberOf.get(taster) ?? 0, column]);
      }
    }
  });
  return {
    noted: tasters.map((taster) => cups.map((cup) => (words.get(cup)?.has(taster) ? 0 : null))),
    found,
  };
}

function rowsOf({ noted, found }: FoundTable, attribute: string): SparseRows {
  // Rows of those who did not find it are shared, not copied: most rows of most attributes.
  const rows = [...noted];
  const own = new Map<number, (number | null)[]>();
  for (const [taster, cup] of found.get(attribute) ?? []) {
    const row = own.get(taster) ?? [...(noted[taster] ?? [])];
    own.set(taster, row);
    row[cup] = 1;
    rows[taster] = row;
  }
  return rows;
}

/** Attributes that enough people mention, in all cups together, to tell cups apart at all. */
function attributesToTest({ found }: FoundTable): readonly string[] {
  return [...found]
    .filter(([, pairs]) => new Set(pairs.map(([taster]) => taster)).size >= FEWEST_TASTERS)
    .map(([attribute]) => attribute)
    .sort();
}

function countTasters(
  words: LatestWords,
  cups: readonly string[],
  tasters: readonly string[],
): ComparedTasters {
  const counts = tasters.map((taster) => cups.filter((cup) => words.get(cup)?.has(taster)).length);
  return {
    complete: counts.filter((count) => count === cups.length).length,
    partial: counts.filter((count) => count > 1 && count < cups.length).length,
    alone: counts.filter((count) => count === 1 && count < cups.length).length,
  };
}

/**
 * Which attributes tell the cups apart and which cups they set apart: Cochran's Q per attribute that at least two
 * people mention, Holm's adjustment over those attributes, and for each one below 5 % the cups whose count is
 * further from what chance gives than 95 % of chance (standardised residual). Tasters who skipped a cup are
 * compared on the cups that they noted.
 */
export function cupDifferences(
  words: LatestWords,
  cups: readonly string[],
  options: PermutationOptions = TALLY_PERMUTATIONS,
): CupDifferences {
  const compared = cups.filter((cup) => (words.get(cup)?.size ?? 0) > 0);
  const tasters = tastersOf(words, compared);
  const counted = countTasters(words, compared, tasters);
  const byCup = new Map<string, SetApart[]>(cups.map((cup) => [cup, []]));
  if (compared.length < 2) return { compared, tasters: counted, attributes: [], byCup };
  const table = foundTable(words, compared, tasters);
  const tests = attributesToTest(table).map((attribute) => ({
    attribute,
    result: cochranQ(rowsOf(table, attribute), options),
  }));
  const adjusted = holm(tests.map(({ result }) => result.p));
  const attributes = tests.map(({ attribute, result: { q, df, p, method } }, index) => ({
    attribute,
    ...{ q, df, p, method },
    pHolm: adjusted[index] ?? 1,
  }));
  tests.forEach(({ attribute, result }, index) => {
    const pHolm = adjusted[index] ?? 1;
    if (pHolm >= ALPHA) return;
    compared.forEach((cup, column) => {
      const residual = result.residuals[column] ?? 0;
      if (Math.abs(residual) < normalCritical(ALPHA)) return;
      byCup.get(cup)?.push({
        attribute,
        direction: residual > 0 ? 'more' : 'less',
        tasters: result.columnTotals[column] ?? 0,
        noted: words.get(cup)?.size ?? 0,
        pHolm,
      });
    });
  });
  for (const list of byCup.values())
    list.sort((a, b) => a.pHolm - b.pHolm || (a.attribute < b.attribute ? -1 : 1));
  return { compared, tasters: counted, attributes: [...attributes].sort((a, b) => a.pHolm - b.pHolm), byCup };
}
