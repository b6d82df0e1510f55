import { z } from 'zod';
import { formatGrams, parseWeight, plainNumber, type UnitSystem } from '../measure/weight.js';

/** House facts that are looked at together, so that each group fits one phone screen. */
export const FACT_GROUPS = [
  { key: 'first', title: 'Who, when, where' },
  { key: 'asks', title: 'Roast asks' },
  { key: 'table', title: 'The table' },
  { key: 'roasted', title: 'Roasted coffee' },
  { key: 'money', title: 'Money and units' },
] as const;
export type FactGroup = (typeof FACT_GROUPS)[number];

/** The words for a fact as they were understood, or a kind sentence what to say instead. */
export type Reading<Value> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly message: string };

/** What the form of a fact asks with; `line` when nothing is said. A choice's value is what one would type. */
export type FactInput = {
  readonly kind: 'line' | 'lines' | 'person' | 'people' | 'weekdays' | 'channel' | 'choices';
  /** instead of the label */
  readonly question?: string;
  readonly hint?: string;
  readonly choices?: readonly {
    readonly label: string;
    readonly value: string;
    readonly description?: string;
  }[];
};

/** What values are shown in. */
type ShownIn = { readonly unitSystem: UnitSystem; readonly currency: string };

/** Everything about one house fact but what values it may have and which it has at first: that is its schema. */
type Fact = {
  /** What it is called on screen, lower case ("roast days"), then other names people may use. */
  readonly called: readonly [label: string, ...others: string[]];
  readonly group: FactGroup['key'];
  /** Whether the form of the first run asks for it: what cannot be guessed. */
  readonly isAskedFirst?: true;
  /** Where the default comes from, in words short enough to stand beside it. */
  readonly source: (usual: z.$output) => string;
  /** What one may type, by the default where that is an example. */
  readonly example: (usual: z.$output) => string;
  /** @param like the example, for what is said when the words are not understood */
  readonly read: (words: string, now: z.$output, like: string) => Reading<z.$output>;
  readonly show: (value: z.$output, shownIn: ShownIn) => string;
  readonly input?: FactInput | ((usual: z.$output) => FactInput);
  /** What stands in the form to begin with, as it would be tapped or typed. */
  readonly filledIn?: (value: z.$output) => readonly string[];
};

/** The house facts by their schema. */
export const FACTS = z.registry<Fact>();

/** A house fact: what values it may have, with a default, and everything else about it. */
export function fact<Schema extends z.ZodType>(schema: Schema, about: z.core.$replace<Fact, Schema>): Schema {
  FACTS.add(schema, about);
  return schema;
}

export const PositiveMg = z.number().int().positive();

/** A whole number within bounds. */
export function whole(least: number, most: number): z.ZodNumber {
  return z.number().int().min(least).max(most);
}

/** Where defaults come from that have no source of their own. */
export const PRACTICE = 'common practice, no source';
export const OURS = () => 'our choice until you say otherwise';
export const ONLY_YOU = () => 'only you can know';

/** Words that were not understood. */
export function unclear(words: string, wanted: string): { readonly ok: false; readonly message: string } {
  return { ok: false, message: `I could not read “${words}”. ${wanted}` };
}

/** What the words were read as, when they were read as anything. */
export function readAs<Value>(
  value: Value | null | undefined,
  words: string,
  wanted: string,
): Reading<Value> {
  return value === null || value === undefined ? unclear(words, wanted) : { ok: true, value };
}

/** A fact that is one number. */
export function numberIn(unit: string) {
  return {
    example: (usual: number) => plainNumber(usual, 2),
    read: (words: string, _now: number, like: string): Reading<number> => {
      const number = /^(\d{1,4}(?:[.,]\d{1,2})?)(?::00)?\s*(?:[a-z/]+(?: [a-z]+)*)?$/iu.exec(
        words.trim(),
      )?.[1];
      const value = number === undefined ? null : Number(number.replace(',', '.'));
      return readAs(value, words, `Give one number, like ${like}.`);
    },
    show: (value: number) => `${plainNumber(value, 2)}${unit}`,
  };
}

/** A fact that is one weight, in milligrams. The house's own weights are grams when nothing else is said. */
export const WEIGHT = {
  example: (usual: number) => formatGrams(usual),
  read: (words: string): Reading<number> => {
    const weight = parseWeight(/^[\d.,]+$/u.test(words.trim()) ? `${words.trim()} g` : words);
    return weight.ok ? { ok: true, value: weight.mg } : weight;
  },
  show: (mg: number) => formatGrams(mg),
};

const MENTION = /<@([UW][A-Z0-9]+)(?:\|[^>]*)?>|\b([UW][A-Z0-9]{4,})\b/gu;

/** The people mentioned, each once. */
export function peopleIn(words: string): readonly string[] {
  const ids = [...words.matchAll(MENTION)].map((match) => match[1] ?? match[2] ?? '');
  return [...new Set(ids)];
}
