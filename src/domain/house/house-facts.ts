import { z } from 'zod';
import { FACTS, type FactGroup, type FactInput } from './fact.js';
import { TABLE_FACTS } from './table-facts.js';
import { WHO_FACTS } from './who-facts.js';

/**
 * What a roastery tells the bot about itself. Each fact is defined once, by `fact` in one of the two lists, and whatever
 * lists, shows or asks facts follows from that, in the same order. Every fact has a default, so `HouseFacts.parse({})` is
 * a house on its first day.
 */
export const HouseFacts = z.object({ ...WHO_FACTS, ...TABLE_FACTS });
export type HouseFacts = z.output<typeof HouseFacts>;
export type FactName = keyof HouseFacts;

/** The facts of a house that has told nothing yet. */
export const DEFAULT_HOUSE: HouseFacts = HouseFacts.parse({});

/** Every house fact, in the order in which they are shown. */
export const FACT_NAMES: readonly FactName[] = HouseFacts.keyof().options;

/** The house after one fact was changed from chat, or a kind sentence what to say instead. */
export type ParsedFact =
  | { readonly ok: true; readonly house: HouseFacts; readonly said: string }
  | { readonly ok: false; readonly message: string };

/** One house fact as it is shown and asked for. */
export type ShownFact = {
  readonly name: FactName;
  /** What it is called on screen, lower case: "roast days". */
  readonly label: string;
  readonly group: FactGroup['key'];
  readonly isAskedFirst: boolean;
  readonly value: string;
  /** Where the default comes from; null when the house has said its own. */
  readonly source: string | null;
  readonly example: string;
  readonly input: FactInput;
  /** What stands in its form to begin with; null when that is empty and says beside it what holds now. */
  readonly filledIn: readonly string[] | null;
};

function entryOf(name: FactName) {
  const entry = FACTS.get(HouseFacts.shape[name]);
  if (entry === undefined) throw new RangeError(`The house fact ${name} says nothing about itself.`);
  return entry;
}

/**
 * Changes one house fact from chat text: `parseFact('roastDays', 'tue thu', house)`.
 *
 * @param usual a house with the defaults, by which examples go
 */
export function parseFact(
  name: FactName,
  words: string,
  house: HouseFacts,
  usual: HouseFacts = DEFAULT_HOUSE,
): ParsedFact {
  const { called, example, read, show } = entryOf(name);
  const [label] = called;
  const like = example(usual[name]);
  const reading = read(words, house[name], like);
  if (!reading.ok) return reading;
  const checked = HouseFacts.safeParse({ ...house, [name]: reading.value });
  if (!checked.success) {
    return {
      ok: false,
      message: `“${words.trim()}” does not fit ${label}. Say it like: ${label} ${like}`,
    };
  }
  return { ok: true, house: checked.data, said: `${label}: ${show(checked.data[name], checked.data)}` };
}

/** Finds a fact by its name, by another way to call it, or by an unmistakable beginning. */
export function findFact(said: string): FactName | null {
  const wanted = said.trim().toLowerCase().replace(/[_-]+/gu, ' ').replace(/:$/u, '');
  const calls = (name: FactName) => {
    return [name.toLowerCase(), ...entryOf(name).called].map((call) => call.replace(/-/gu, ' '));
  };
  const exact = FACT_NAMES.find((name) => calls(name).includes(wanted));
  if (exact) return exact;
  if (wanted.length < 3) return null;
  const begun = FACT_NAMES.filter((name) => calls(name).some((call) => call.startsWith(wanted)));
  return begun.length === 1 ? (begun[0] ?? null) : null;
}

/** Splits "roast days tue thu" into the fact, the words that name it and those for it; null when none is named. */
export function splitFact(
  text: string,
): { readonly name: FactName; readonly called: string; readonly words: string } | null {
  const words = text.trim().split(/\s+/u);
  for (let taken = Math.min(3, words.length); taken > 0; taken -= 1) {
    const called = words.slice(0, taken).join(' ');
    const name = findFact(called);
    if (name === null) continue;
    const rest = words.slice(taken).join(' ');
    return { name, called, words: rest.replace(/^(?:=|is|are|to)\s+/u, '') };
  }
  return null;
}

/** One fact as it is shown, a default (that of `usual`) with where it comes from. */
export function showFact(name: FactName, house: HouseFacts, usual: HouseFacts = DEFAULT_HOUSE): ShownFact {
  const { called, group, isAskedFirst = false, source, example, show, ...entry } = entryOf(name);
  const value = show(house[name], house);
  const isDefault = value === show(usual[name], usual);
  return {
    name,
    label: called[0],
    group,
    isAskedFirst,
    value,
    source: isDefault ? source(usual[name]) : null,
    example: example(usual[name]),
    input: typeof entry.input === 'function' ? entry.input(usual[name]) : (entry.input ?? { kind: 'line' }),
    filledIn: entry.filledIn?.(house[name]) ?? null,
  };
}

/** All facts as they are shown, in their order. */
export function showFacts(house: HouseFacts, usual: HouseFacts = DEFAULT_HOUSE): readonly ShownFact[] {
  return FACT_NAMES.map((name) => showFact(name, house, usual));
}

/** How a fact is changed in words, by its example: "roast days tue thu". */
export function factExample(name: FactName): string {
  const { called, example } = entryOf(name);
  return `${called[0]} ${example(DEFAULT_HOUSE[name])}`;
}
