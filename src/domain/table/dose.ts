import type { HouseFacts } from '../house/house-facts.js';
import { roundToStep } from '../measure/scale-step.js';
import type { TableFormat } from '../record/tasting.js';

/** What one vessel of a sample takes: a bowl when cupping, a batch when brewed. */
export type Dose = {
  readonly format: TableFormat;
  /** Ground coffee, to the scale step. */
  readonly doseMg: number;
  readonly waterMl: number;
  /** Vessels of every sample on one table. */
  readonly vessels: number;
};

/** House facts the dose depends on. */
type DoseFacts = Pick<HouseFacts, 'vesselMl' | 'gramsPerLitre' | 'scaleStepMg' | 'bowlsPerCup' | 'serveMl'>;

/** Water that stays in the grounds, mL per gram of coffee: common practice, no source. */
export const HELD_ML_PER_GRAM = 2;
/** Hot, warm and cool: the passes of a cupping. */
export const CUPPING_PASSES = 3;
/** The host and a place set by mistake drink too. */
const SPARE_SERVINGS = 1;

/** Tasters at the fullest of several tables set alike: they spread over them as evenly as they can. */
export function tastersAtEach(tasters: number, tables: number): number {
  return Math.ceil(tasters / Math.max(1, tables));
}

/**
 * Dose and water of one vessel. Cupping: the bowl's water at the house ratio (8.25 g per 150 mL in the SCA
 * cupping standards is 55 g/L, so 207 mL take 11.4 g). Brewed: on each table one batch for its tasters and
 * one serving over, with the water the grounds keep added.
 *
 * @param tasters over all tables
 * @param tables set alike
 */
export function doseFor(format: TableFormat, tasters: number, facts: DoseFacts, tables = 1): Dose {
  if (format === 'cupping') {
    const doseMg = roundToStep(facts.vesselMl * facts.gramsPerLitre, facts.scaleStepMg);
    return { format, doseMg, waterMl: facts.vesselMl, vessels: facts.bowlsPerCup };
  }
  const drunkMl = (Math.max(1, tastersAtEach(tasters, tables)) + SPARE_SERVINGS) * facts.serveMl;
  const waterMl = Math.ceil(drunkMl / (1 - (facts.gramsPerLitre * HELD_ML_PER_GRAM) / 1000) / 10) * 10;
  return {
    format,
    doseMg: roundToStep(waterMl * facts.gramsPerLitre, facts.scaleStepMg),
    waterMl,
    vessels: 1,
  };
}
