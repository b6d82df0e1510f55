import { plainList } from '../measure/plain-list.js';
import type { TableFormat } from './format.js';

/** What the cautions of a table depend on. */
export type CautionPlan = {
  readonly format: TableFormat;
  /** Cups each taster goes through. */
  readonly cups: number;
  readonly serveMl: number;
  /** Coffees with something added or infused, and what. */
  readonly flavourAdded: readonly { readonly name: string; readonly added: string }[];
};

/** EFSA (2015), by way of summaries: about 90 mg in 200 mL of filter coffee, 200 mg at one time for adults. */
const CAFFEINE_MG_PER_ML = 0.45;
const PASSES = 3;
const SPOON_ML = 4.5;

/** Caffeine a taster takes in who swallows everything, in milligrams to the nearest ten. */
export function swallowedCaffeineMg(plan: Pick<CautionPlan, 'format' | 'cups' | 'serveMl'>): number {
  const perCup = plan.format === 'cupping' ? PASSES * SPOON_ML : plan.serveMl;
  return Math.round((plan.cups * perCup * CAFFEINE_MG_PER_ML) / 10) * 10;
}

/** The cautions to print and to say, shortest words first; local codes and trained people come before them. */
export function cautions(plan: CautionPlan): readonly string[] {
  const caffeine = swallowedCaffeineMg(plan);
  const added = plan.flavourAdded.map((coffee) => `${coffee.name} (${coffee.added})`);
  const are = added.length > 1 ? 'are' : 'is';
  return [
    'Scalds: the water is over 90 °C. Pour before people crowd in, cups away from the edge. Taste under 65 °C.',
    plan.format === 'cupping'
      ? 'Shared bowls: tip the spoon into your own small cup, so that no spoon that touched a mouth goes back.'
      : 'Serve each taster in their own cup.',
    `Caffeine: about ${caffeine} mg if all is swallowed${caffeine >= 150 ? '; 200 mg at once is the usual adult limit' : ''}. Spit, and go easy when pregnant or sensitive.`,
    ...(added.length > 0
      ? [
          `Allergens: ${plainList(added)} ${are} not plain coffee. Ask for the specification, ask the tasters first, keep it off a shared grinder.`,
        ]
      : ['Allergens: ask the tasters first. A note like “hazelnut” names a flavour, not an ingredient.']),
    'Local food and safety rules and trained people come first.',
  ];
}
