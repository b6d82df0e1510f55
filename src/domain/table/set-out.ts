import type { Dose } from './dose.js';
import { strengthHint } from './extraction.js';

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
