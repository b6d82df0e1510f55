import { type Interval, wilsonInterval } from '../stats/intervals.js';
import type { AttributeTree, CupWords, LatestWords, Word } from './counted.js';
import { type CupDifferences, cupDifferences } from './sets-apart.js';

/** A count of distinct tasters out of those who noted the cup. */
type TasterShare = {
  readonly tasters: number;
  /** tasters divided by those who noted the cup, 0..1 */
  readonly share: number;
  /** 95 % Wilson interval of the share */
  readonly wilson: Interval;
};

/** One attribute of one cup. `denied` and `compared` tasters are never among `tasters`' share. */
type AttributeTally = TasterShare & {
  readonly attribute: string;
  readonly family: string;
  /** mean of the intensities given, null when nobody gave one */
  readonly meanIntensity: number | null;
  /** standard deviation (n − 1) of the intensities given, null below two */
  readonly intensitySpread: number | null;
  /** tasters whose latest word is that it is not there */
  readonly denied: number;
  /** of `tasters`, those who were in doubt */
  readonly doubted: number;
  /** tasters who compared it with another cup */
  readonly compared: number;
};

/** Distinct tasters who found anything within a family or subfamily, however many of its words they used. */
type GroupTally = TasterShare & { readonly name: string; readonly attributes: readonly string[] };

/** One cup's tally, the most shared first. */
export type CupTally = {
  readonly cup: string;
  /** distinct tasters who noted the cup at all */
  readonly tasters: number;
  readonly attributes: readonly AttributeTally[];
  readonly families: readonly GroupTally[];
  readonly subfamilies: readonly GroupTally[];
};

/** Orders by tasters, most first, then by name. */
export function mostShared(a: readonly [number, string], b: readonly [number, string]): number {
  return b[0] - a[0] || (a[1] < b[1] ? -1 : a[1] > b[1] ? 1 : 0);
}

/** Tallies one cup from each taster's standing words. */
export function tallyCup(cup: string, said: ReadonlyMap<string, CupWords>, tree: AttributeTree): CupTally {
  const noted = said.size;
  const collected = collect(said);
  const attributes = [...collected]
    .map(([attribute, own]) => attributeTally(attribute, own, noted, tree))
    .sort((a, b) => mostShared([a.tasters, a.attribute], [b.tasters, b.attribute]));
  const groups = groupTallies(collected, noted, tree);
  const familyNames = new Set(attributes.map(({ family }) => family));
  const isFamily = (group: GroupTally) => familyNames.has(group.name);
  return {
    cup,
    tasters: noted,
    attributes,
    families: groups.filter(isFamily),
    subfamilies: groups.filter((group) => !isFamily(group)),
  };
}

/** What is said of one attribute: every taster's word, who found it, and how many only compared it. */
type Collected = { readonly words: Word[]; readonly finders: string[]; compared: number };

function collect(said: ReadonlyMap<string, CupWords>): ReadonlyMap<string, Collected> {
  const byAttribute = new Map<string, Collected>();
  const entry = (attribute: string) => {
    const own = byAttribute.get(attribute) ?? { words: [], finders: [], compared: 0 };
    byAttribute.set(attribute, own);
    return own;
  };
  for (const [taster, { words, compared }] of said) {
    for (const [attribute, word] of words) {
      const own = entry(attribute);
      own.words.push(word);
      if (word.present) own.finders.push(taster);
    }
    for (const attribute of compared) entry(attribute).compared += 1;
  }
  return byAttribute;
}

function attributeTally(
  attribute: string,
  { words, finders, compared }: Collected,
  noted: number,
  tree: AttributeTree,
): AttributeTally {
  const present = words.filter((word) => word.present);
  return {
    attribute,
    family: tree.familyOf(attribute),
    ...shareOf(finders.length, noted),
    ...spreadOf(present.flatMap(({ intensity }) => intensity ?? [])),
    denied: words.length - finders.length,
    doubted: present.filter(({ doubt }) => doubt).length,
    compared,
  };
}

function shareOf(tasters: number, noted: number): TasterShare {
  return { tasters, share: noted === 0 ? 0 : tasters / noted, wilson: wilsonInterval(tasters, noted) };
}

function spreadOf(given: readonly number[]): Pick<AttributeTally, 'meanIntensity' | 'intensitySpread'> {
  if (given.length === 0) return { meanIntensity: null, intensitySpread: null };
  // Ascending order makes the sums, to the last bit, independent of the order of the notes.
  const values = [...given].sort((a, b) => a - b);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  if (values.length < 2) return { meanIntensity: mean, intensitySpread: null };
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { meanIntensity: mean, intensitySpread: Math.sqrt(squares / (values.length - 1)) };
}

function groupTallies(
  collected: ReadonlyMap<string, Collected>,
  noted: number,
  tree: AttributeTree,
): readonly GroupTally[] {
  const groups = new Map<string, Set<string>>();
  const found = [...collected].flatMap(([attribute, { finders }]) => (finders.length > 0 ? [attribute] : []));
  for (const attribute of found) {
    for (const name of [...tree.ancestorsOf(attribute), tree.familyOf(attribute)]) {
      groups.set(name, (groups.get(name) ?? new Set()).add(attribute));
    }
  }
  // "Citrus" said of itself belongs to the citrus group as much as lemon does.
  for (const attribute of found) groups.get(attribute)?.add(attribute);
  return [...groups]
    .map(([name, members]) => {
      const attributes = [...members].sort();
      const finders = new Set(attributes.flatMap((attribute) => collected.get(attribute)?.finders ?? []));
      return { name, attributes, ...shareOf(finders.size, noted) };
    })
    .sort((a, b) => mostShared([a.tasters, a.name], [b.tasters, b.name]));
}

/** What a table found: each cup's tally in the order of the cups, and what sets cups apart. */
export type TableTally = {
  readonly cups: readonly CupTally[];
  readonly setsApart: CupDifferences;
};

/** What is counted: the cups to report, each taster's latest words, and the vocabulary's tree. */
type TallyInput = {
  readonly cups: readonly string[];
  readonly words: LatestWords;
  readonly tree: AttributeTree;
};

/**
 * Tallies a table: per cup and attribute the distinct tasters who stand by it now (once per
 * taster, the latest word counting), with denials apart and families rolled up by distinct taster. The answer is
 * the same whatever the order of the notes.
 */
export function tallyTable({ cups, words, tree }: TallyInput): TableTally {
  return {
    cups: cups.map((cup) => tallyCup(cup, words.get(cup) ?? new Map(), tree)),
    setsApart: cupDifferences(words, cups),
  };
}
