import { type CochranTable, cochranQOf, cochranTable, type FoundColumns } from '../stats/cochran-q.js';
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
type FoundTable = { readonly shape: CochranTable; readonly found: ReadonlyMap<string, FoundColumns> };

function foundTable(words: LatestWords, cups: readonly string[], tasters: readonly string[]): FoundTable {
  const numberOf = new Map(tasters.map((taster, number) => [taster, number]));
  const noted = tasters.map((taster) => cups.map((cup) => (words.get(cup)?.has(taster) ? 0 : null)));
  const found = new Map<string, (number[] | null)[]>();
  cups.forEach((cup, column) => {
    for (const [taster, said] of words.get(cup) ?? []) {
      const number = numberOf.get(taster) ?? 0;
      for (const [attribute, word] of said.words) {
        if (!word.present) continue;
        const finders = found.get(attribute) ?? new Array<number[] | null>(tasters.length).fill(null);
        if (!found.has(attribute)) found.set(attribute, finders);
        const columns = finders[number] ?? null;
        if (columns === null) finders[number] = [column];
        else columns.push(column);
      }
    }
  });
  return { shape: cochranTable(noted, cups.length), found };
}

/** Attributes that enough people found, in all cups together, to tell cups apart at all. */
function attributesToTest({ found }: FoundTable): readonly (readonly [string, FoundColumns])[] {
  return [...found]
    .filter(([, finders]) => finders.filter((columns) => columns !== null).length >= FEWEST_TASTERS)
    .sort(([a], [b]) => (a < b ? -1 : 1));
}

function countTasters({ shape: { seen, cups } }: FoundTable): ComparedTasters {
  const counts = seen.map((columns) => columns.length);
  return {
    complete: counts.filter((count) => count === cups).length,
    partial: counts.filter((count) => count > 1 && count < cups).length,
    alone: counts.filter((count) => count === 1 && count < cups).length,
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
  const table = foundTable(words, compared, tasters);
  const counted = countTasters(table);
  const byCup = new Map<string, SetApart[]>(cups.map((cup) => [cup, []]));
  if (compared.length < 2) return { compared, tasters: counted, attributes: [], byCup };
  const tests = attributesToTest(table).map(([attribute, finders]) => ({
    attribute,
    result: cochranQOf(finders, table.shape, options),
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
