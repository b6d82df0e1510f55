import { type Interval, wilsonInterval } from '../stats/wilson.js';
import type { AttributeTree } from './counted.js';
import type { CupWords, Word } from './latest-words.js';

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
  const attributes = [...collect(said)]
    .map(([attribute, { words, compared }]) => attributeTally(attribute, words, compared, noted, tree))
    .sort((a, b) => mostShared([a.tasters, a.attribute], [b.tasters, b.attribute]));
  const groups = groupTallies(said, tree);
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

type Collected = { readonly words: Word[]; compared: number };

function collect(said: ReadonlyMap<string, CupWords>): Map<string, Collected> {
  const byAttribute = new Map<string, Collected>();
  const entry = (attribute: string) => {
    const found = byAttribute.get(attribute) ?? { words: [], compared: 0 };
    byAttribute.set(attribute, found);
    return found;
  };
  for (const { words, compared } of said.values()) {
    for (const [attribute, word] of words) entry(attribute).words.push(word);
    for (const attribute of compared) entry(attribute).compared += 1;
  }
  return byAttribute;
}

function attributeTally(
  attribute: string,
  words: readonly Word[],
  compared: number,
  noted: number,
  tree: AttributeTree,
): AttributeTally {
  const present = words.filter((word) => word.present);
  const intensities = present.flatMap((word) => (word.intensity === null ? [] : [word.intensity]));
  return {
    attribute,
    family: tree.familyOf(attribute),
    ...shareOf(present.length, noted),
    ...spreadOf(intensities),
    denied: words.length - present.length,
    doubted: present.filter((word) => word.doubt).length,
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

type Group = { readonly tasters: Set<string>; readonly attributes: Set<string> };

function groupTallies(said: ReadonlyMap<string, CupWords>, tree: AttributeTree): readonly GroupTally[] {
  const finders = findersOf(said);
  const groups = new Map<string, Group>();
  const join = (name: string, attribute: string, tasters: readonly string[]) => {
    const group = groups.get(name) ?? { tasters: new Set(), attributes: new Set() };
    groups.set(name, group);
    group.attributes.add(attribute);
    for (const taster of tasters) group.tasters.add(taster);
  };
  for (const [attribute, tasters] of finders) {
    for (const name of new Set([...tree.ancestorsOf(attribute), tree.familyOf(attribute)])) {
      join(name, attribute, tasters);
    }
  }
  // "Citrus" said of itself belongs to the citrus group as much as lemon does.
  for (const [attribute, tasters] of finders) if (groups.has(attribute)) join(attribute, attribute, tasters);
  return [...groups]
    .map(([name, { tasters, attributes }]) => ({
      name,
      attributes: [...attributes].sort(),
      ...shareOf(tasters.size, said.size),
    }))
    .sort((a, b) => mostShared([a.tasters, a.name], [b.tasters, b.name]));
}

/** attribute → tasters who stand by it */
function findersOf(said: ReadonlyMap<string, CupWords>): ReadonlyMap<string, readonly string[]> {
  const finders = new Map<string, string[]>();
  for (const [taster, { words }] of said) {
    for (const [attribute, word] of words) {
      if (!word.present) continue;
      const own = finders.get(attribute) ?? [];
      finders.set(attribute, own);
      own.push(taster);
    }
  }
  return finders;
}
