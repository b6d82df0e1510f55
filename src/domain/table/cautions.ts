import { plainList } from '../measure/plain-list.js';
import type { TableFormat } from './format.js';

/** What the cautions of a table depend on. */
export type CautionPlan = {
  readonly format: TableFormat;
  /** Bowls or servings each taster goes through. */
  readonly bowls: number;
  readonly serveMl: number;
  /** Coffees with something added or infused, and what. */
  readonly flavourAdded: readonly { readonly name: string; readonly added: string }[];
  /** Blind tables hear what was added, not to which coffee. */
  readonly blind: boolean;
};

/** EFSA (2015), by way of summaries: about 90 mg in 200 mL of filter coffee, 200 mg at one time for adults. */
const CAFFEINE_MG_PER_ML = 0.45;
const PASSES = 3;
const SPOON_ML = 4.5;

/** Caffeine a taster takes in who swallows everything, in milligrams to the nearest ten. */
export function swallowedCaffeineMg(plan: Pick<CautionPlan, 'format' | 'bowls' | 'serveMl'>): number {
  const perBowl = plan.format === 'cupping' ? PASSES * SPOON_ML : plan.serveMl;
  return Math.round((plan.bowls * perBowl * CAFFEINE_MG_PER_ML) / 10) * 10;
}

/** The cautions to print and to say, shortest words first; local codes and trained people come before them. */
export function cautions(plan: CautionPlan): readonly string[] {
  const caffeine = swallowedCaffeineMg(plan);
  return [
    'Scalds: the water is over 90 °C. Pour before people crowd in, cups away from the edge. Taste under 65 °C.',
    plan.format === 'cupping'
      ? 'Shared bowls: tip the spoon into your own small cup, so that no spoon that touched a mouth goes back.'
      : 'Serve each taster in their own cup.',
    `Caffeine: about ${caffeine} mg if all is swallowed${caffeine >= 150 ? '; 200 mg at once is the usual adult limit' : ''}. Spit, and go easy when pregnant or sensitive.`,
    allergens(plan),
    'Local food and safety rules and trained people come first.',
  ];
}

function allergens({ flavourAdded, blind }: CautionPlan): string {
  const ask = 'Ask for the specification, ask the tasters first, keep it off a shared grinder.';
  if (flavourAdded.length === 0) {
    return 'Allergens: ask the tasters first. A note like “hazelnut” names a flavour, not an ingredient.';
  }
  if (blind) {
    return `Allergens: there is coffee on this table with something added: ${plainList(flavourAdded.map((coffee) => coffee.added))}. ${ask}`;
  }
  const named = flavourAdded.map((coffee) => `${coffee.name} (${coffee.added})`);
  return `Allergens: ${plainList(named)} ${named.length > 1 ? 'are' : 'is'} not plain coffee. ${ask}`;
}
