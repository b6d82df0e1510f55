import { CALENDAR_FACTS } from './calendar-facts.js';
import { DRUM_FACTS } from './drum-facts.js';
import type { FactEntry } from './fact-entry.js';
import { FACT_SOURCES } from './fact-sources.js';
import { DEFAULT_HOUSE, type FactName, HouseFacts } from './house-facts.js';
import { NUMBER_FACTS, SHARE_FACTS } from './number-facts.js';
import { PEOPLE_FACTS } from './people-facts.js';
import { REST_FACTS } from './rest-facts.js';
import { MONEY_FACTS, WEIGHT_FACTS } from './weight-facts.js';

/** Every house fact, in the order in which they are shown. */
export const FACT_ENTRIES: readonly FactEntry[] = [
  ...CALENDAR_FACTS,
  ...PEOPLE_FACTS,
  ...DRUM_FACTS,
  ...REST_FACTS,
  ...NUMBER_FACTS,
  ...WEIGHT_FACTS,
  ...SHARE_FACTS,
  ...MONEY_FACTS,
];

/** The house after one fact was changed from chat, or a kind sentence what to say instead. */
export type ParsedFact =
  | { readonly ok: true; readonly name: FactName; readonly house: HouseFacts; readonly said: string }
  | { readonly ok: false; readonly message: string };

/** One house fact as it is shown: what it is called, what it is, and where a default comes from. */
export type ShownFact = {
  readonly name: FactName;
  readonly label: string;
  readonly value: string;
  /** Where the default comes from; null when the house has said its own. */
  readonly source: string | null;
  readonly example: string;
};

/**
 * Changes one house fact from chat text: `parseFact('roast days', 'tue thu', house)`. The name may be any
 * way people call it or its beginning.
 */
export function parseFact(name: string, words: string, house: HouseFacts): ParsedFact {
  const entry = findFact(name);
  if (entry === null) {
    const labels = FACT_ENTRIES.map((known) => known.label).join(', ');
    return { ok: false, message: `I do not know the house fact “${name.trim()}”. The facts are: ${labels}.` };
  }
  if (words.trim() === '') {
    return {
      ok: false,
      message: `${entry.label} is ${entry.show(house)}. Change it like: ${entry.label} ${entry.example}`,
    };
  }
  const read = entry.read(words, house);
  if (!read.ok) return read;
  const checked = HouseFacts.safeParse({ ...house, ...read.change });
  if (!checked.success) {
    return {
      ok: false,
      message: `“${words.trim()}” does not fit ${entry.label}. Say it like: ${entry.label} ${entry.example}`,
    };
  }
  return {
    ok: true,
    name: entry.name,
    house: checked.data,
    said: `${entry.label}: ${entry.show(checked.data)}`,
  };
}

/** Finds a fact by its name, by another way to call it, or by an unmistakable beginning. */
export function findFact(name: string): FactEntry | null {
  const wanted = name.trim().toLowerCase().replace(/[_-]+/gu, ' ').replace(/:$/u, '');
  const calls = (entry: FactEntry) =>
    [entry.label, entry.name.toLowerCase(), ...entry.alsoCalled].map((call) => call.replace(/-/gu, ' '));
  const exact = FACT_ENTRIES.find((entry) => calls(entry).includes(wanted));
  if (exact) return exact;
  const begun =
    wanted.length < 3
      ? []
      : FACT_ENTRIES.filter((entry) => calls(entry).some((call) => call.startsWith(wanted)));
  return begun.length === 1 ? (begun[0] ?? null) : null;
}

/** Splits "roast days tue thu" into the fact's name and the words for it; null when no fact is named. */
export function splitFact(text: string): { readonly name: string; readonly words: string } | null {
  const words = text.trim().split(/\s+/u);
  for (let taken = Math.min(3, words.length); taken > 0; taken -= 1) {
    const name = words.slice(0, taken).join(' ');
    if (findFact(name))
      return {
        name,
        words: words
          .slice(taken)
          .join(' ')
          .replace(/^(?:=|is|are|to)\s+/u, ''),
      };
  }
  return null;
}

/** All facts as they are shown, each default with where it comes from. */
export function showFacts(house: HouseFacts): readonly ShownFact[] {
  return FACT_ENTRIES.map((entry) => {
    const value = entry.show(house);
    const isDefault = value === entry.show(DEFAULT_HOUSE);
    const source = isDefault ? (FACT_SOURCES.get(entry.name) ?? null) : null;
    return { name: entry.name, label: entry.label, value, source, example: entry.example };
  });
}
