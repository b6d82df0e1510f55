import { plainList } from '../measure/plain-list.js';
import type { TableFormat } from '../record/tasting.js';
import { formatTime } from '../when/local-day.js';
import { CUPPING_PASSES, type Dose, HELD_ML_PER_GRAM } from './dose.js';

/**
 * What to set out, in order, for one table.
 *
 * @param tasters at that table
 */
export function setOut(
  samples: number,
  dose: Dose,
  tasters: number,
  tables: number,
  blind: boolean,
): readonly string[] {
  const vessels = samples * dose.vessels;
  const each = tables > 1 ? ` on each of ${tables} tables` : '';
  const spoonUsers = Math.max(1, tasters);
  const cupping = [
    `${vessels} bowls, all alike, for ${dose.waterMl} mL, with lids${each}: ${dose.vessels} for each sample.`,
    `${blind ? 'Codes' : 'Labels'} on the bowls, same place on each.`,
    'Scale, grinder with a brush, timer, thermometer.',
    `${litres(vessels * dose.waterMl)} of water for the bowls${each}, and as much again for rinsing and a second pour.`,
    `${spoonUsers} tasting spoons, ${spoonUsers} small cups and ${spoonUsers} spit cups, plus two skimming spoons.`,
    'Rinse water in tall glasses, changed between passes; plain water to drink.',
  ];
  const brewed = [
    `Brewer and ${samples} flasks, all alike and warmed${each}.`,
    `${blind ? 'Codes' : 'Labels'} on flasks and cups, same place on each.`,
    'Scale, grinder with a brush, timer, thermometer.',
    `${litres(samples * dose.waterMl)} of brew water${each}.`,
    `${spoonUsers * samples} small cups and ${spoonUsers} spit cups; plain water to drink.`,
    strengthHint(dose),
  ];
  return dose.format === 'cupping' ? cupping : brewed;
}

function litres(ml: number): string {
  return `${Math.ceil(ml / 100) / 10} L`;
}

/** Strength that the trade calls well brewed, percent of dissolved solids (SCAA Golden Cup standard, 2015). */
const STRENGTH_PERCENT = [1.15, 1.35] as const;

/**
 * Extraction yield in percent of the dose: beverage mass × strength % / dose mass (brewing articles). The
 * beverage is taken as a gram per millilitre.
 */
export function extractionYield(beverageMl: number, strengthPercent: number, doseMg: number): number {
  return (beverageMl * strengthPercent * 1000) / doseMg;
}

/** What a refractometer should show for a brewed batch, and which extraction that is. */
export function strengthHint(dose: Dose): string {
  const beverageMl = dose.waterMl - (dose.doseMg / 1000) * HELD_ML_PER_GRAM;
  const [weak, strong] = STRENGTH_PERCENT.map((strength) =>
    extractionYield(beverageMl, strength, dose.doseMg).toFixed(1),
  );
  return `With a refractometer: ${STRENGTH_PERCENT.join('–')} % strength is ${weak}–${strong} % extraction here; keep all samples alike.`;
}

/** One moment of the table on the clock. */
export type Moment = { readonly at: Date; readonly clock: string; readonly what: string };

type Step = { readonly minutes: number; readonly what: string };

/** SCA(A) cupping standards: 93 °C, grounds at most 15 minutes old; 4 minutes to the crust: cupping guides. */
function cuppingSteps(vessels: number): readonly Step[] {
  // Pouring a bowl takes about ten seconds (common practice); the last bowl sets the end of each round.
  const pouring = Math.ceil((vessels * 10) / 60);
  return [
    { minutes: -60, what: 'Weigh every dose whole; put bowls, codes and spoons out.' },
    { minutes: -20, what: 'Kettle on, for 93 °C at the pour.' },
    { minutes: -15, what: 'Grind, not earlier: purge with the sample first, lids on.' },
    { minutes: -5, what: 'Smell the dry grounds.' },
    { minutes: 0, what: 'Pour, steadily, in table order; note the start.' },
    { minutes: 4, what: 'Break the crust in the same order, three strokes; then skim.' },
    { minutes: 10 + pouring, what: 'First pass, once a bowl is under 71 °C: better at 65 °C.' },
    { minutes: 15 + pouring, what: 'Second pass, near 55 °C.' },
    { minutes: 20 + pouring, what: 'Third pass, near 45 °C; then the placing.' },
    { minutes: 45, what: 'Close the table.' },
  ];
}

/** SCAA Golden Cup (2015): 93 ± 3 °C, drip contact 4–6 minutes; servings within ten minutes: common practice. */
function brewedSteps(batches: number): readonly Step[] {
  const brewing = 6 * batches;
  return [
    { minutes: -45 - brewing, what: 'Weigh every dose whole; rinse and warm the flasks.' },
    {
      minutes: -15 - brewing,
      what: 'Brewer on, water at 93 °C; grind the first batch just before it brews.',
    },
    {
      minutes: -10 - brewing,
      what: 'Brew the batches one after another, same grind and water; into closed flasks.',
    },
    { minutes: 0, what: 'Serve all samples within ten minutes, 55–65 °C, same volume.' },
    { minutes: 5, what: 'First pass.' },
    { minutes: 15, what: 'Second pass, cooler; then the placing.' },
    { minutes: 40, what: 'Close the table.' },
  ];
}

/**
 * The table as clock times, counted from the pour (the serving, when brewed).
 *
 * @param vessels bowls to pour on one table, or batches to brew
 */
export function timeline(format: TableFormat, pour: Date, vessels: number, zone: string): readonly Moment[] {
  const steps = format === 'cupping' ? cuppingSteps(vessels) : brewedSteps(vessels);
  return steps.map(({ minutes, what }) => {
    const at = new Date(pour.getTime() + minutes * 60_000);
    return { at, clock: formatTime(at, zone), what };
  });
}

/** A coffee with something added or infused, and what. */
export type AddedTo = { readonly name: string; readonly added: string };

/** What the cautions of a table depend on. */
type CautionPlan = {
  readonly format: TableFormat;
  /** Bowls or servings each taster goes through. */
  readonly bowls: number;
  readonly serveMl: number;
  readonly flavourAdded: readonly AddedTo[];
  /** Blind tables hear what was added, not to which coffee. */
  readonly blind: boolean;
};

/** EFSA (2015), by way of summaries: about 90 mg in 200 mL of filter coffee, 200 mg at one time for adults. */
const CAFFEINE_MG_PER_ML = 0.45;
const SIP_ML = 4.5;

/** Caffeine a taster takes in who swallows everything, in milligrams to the nearest ten. */
export function swallowedCaffeineMg(plan: Pick<CautionPlan, 'format' | 'bowls' | 'serveMl'>): number {
  const perBowl = plan.format === 'cupping' ? CUPPING_PASSES * SIP_ML : plan.serveMl;
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
