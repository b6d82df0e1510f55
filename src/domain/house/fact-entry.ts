import type { FactName, HouseFacts } from './house-facts.js';

/** One change to the house facts, or a kind sentence what to say instead. */
export type FactChange =
  | { readonly ok: true; readonly change: Partial<HouseFacts> }
  | { readonly ok: false; readonly message: string };

/** How one house fact is called, read and shown. */
export type FactEntry = {
  readonly name: FactName;
  /** What it is called on screen, lower case: "roast days". */
  readonly label: string;
  /** Other names people may use, lower case. */
  readonly alsoCalled: readonly string[];
  readonly example: string;
  readonly read: (words: string, house: HouseFacts) => FactChange;
  readonly show: (house: HouseFacts) => string;
};

/** A change that was understood. */
export function changed(change: Partial<HouseFacts>): FactChange {
  return { ok: true, change };
}

/** Words that were not understood. */
export function unclear(words: string, wanted: string): FactChange {
  return { ok: false, message: `I could not read “${words}”. ${wanted}` };
}
