import { type Dose, HELD_ML_PER_GRAM } from './dose.js';

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
