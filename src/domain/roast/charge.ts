import type { Drum } from '../house/drum.js';
import type { HouseFacts } from '../house/house-facts.js';
import { ceilToStep, floorToStep } from '../measure/scale-step.js';
import { formatWeight, type UnitSystem } from '../measure/weight.js';
import { type DrumLosses, greenFor, roastedFrom } from './loss.js';

/** What to put into a drum for a standalone roast. All weights in milligrams. */
export type Charge = {
  readonly drum: Drum;
  /** Equal loads; 1 unless the coffee needs more than the drum takes. */
  readonly loads: number;
  readonly greenMg: number;
  /** Roasted weight to expect, to the nearest step and never under the wish. */
  readonly roastedMg: number;
  /** Roasted grams beyond what was asked, mostly from the minimum charge. */
  readonly overMg: number;
  readonly lossBp: number;
  /** True when the drum's minimum charge decided the weight. */
  readonly atMinimum: boolean;
  /** Short sentences the roaster should read. */
  readonly remarks: readonly string[];
};

/** The charge to propose and the other drums it could go into. */
type ChargePlan = { readonly proposed: Charge; readonly others: readonly Charge[] };

/**
 * Chooses the smallest drum that takes the green for `roastedWantedMg` in one load; when none does, the
 * largest with equal loads. Under a drum's minimum the minimum is proposed and what will be over is said.
 *
 * @param lossIn the loss to reckon with in a drum, hundredths of a percent
 * @param stepMg what the scale at the drum shows
 * @param units how weights are written in the remarks
 * @throws {RangeError} when there is no drum
 */
export function planCharge(
  roastedWantedMg: number,
  lossIn: (drum: Drum) => number,
  drums: readonly Drum[],
  stepMg: number,
  units: UnitSystem = 'metric',
): ChargePlan {
  const bySize = [...drums].sort((a, b) => a.capacityMg - b.capacityMg);
  const charges = bySize.map((drum) => chargeIn(drum, roastedWantedMg, lossIn(drum), stepMg, units));
  const largest = charges.at(-1);
  if (!largest) throw new RangeError('The house has no drum.');
  const proposed = charges.find((charge) => charge.loads === 1) ?? largest;
  return { proposed, others: charges.filter((charge) => charge !== proposed && charge.loads <= MOST_LOADS) };
}

/** What an ask proposes to the roaster for some roasted grams; the remarks say of smaller loads elsewhere too. */
export type AskCharge = Pick<Charge, 'greenMg' | 'roastedMg' | 'overMg' | 'lossBp' | 'remarks'> & {
  readonly drum: string;
};

/** The charge for some roasted grams of a coffee, at the loss it has shown in each drum so far. */
export function askCharge(
  wantedMg: number,
  losses: DrumLosses,
  { drums, batchStepMg, unitSystem }: Pick<HouseFacts, 'drums' | 'batchStepMg' | 'unitSystem'>,
): AskCharge {
  // Whole grams: a drum is not charged to a tenth.
  const wholeMg = ceilToStep(wantedMg, 1000);
  const lossIn = (drum: Drum) => losses.get(drum.name)?.lossBp ?? 0;
  const { proposed, others } = planCharge(wholeMg, lossIn, drums, batchStepMg, unitSystem);
  const { greenMg, roastedMg, lossBp, drum, atMinimum } = proposed;
  const less = atMinimum ? others.find((other) => other.greenMg < greenMg) : undefined;
  const remarks = less ? [...proposed.remarks, insteadOf(less, unitSystem)] : proposed.remarks;
  return { greenMg, roastedMg, overMg: roastedMg - wantedMg, lossBp, drum: drum.name, remarks };
}

/** Smaller loads in another drum, where the minimum of the proposed one makes much more than is wanted. */
function insteadOf(charge: Charge, units: UnitSystem): string {
  const load = formatWeight(charge.greenMg / charge.loads, units);
  const loads = charge.loads === 1 ? `One load of ${load}` : `${charge.loads} loads of ${load}`;
  return `${loads} in the ${charge.drum.name} would make less: charge what suits you, and record it.`;
}

/** More loads than this of one standalone coffee are no proposal. */
const MOST_LOADS = 4;

function chargeIn(drum: Drum, wantedMg: number, lossBp: number, stepMg: number, units: UnitSystem): Charge {
  const usableMg = Math.max(stepMg, floorToStep(drum.capacityMg * drum.usableShare, stepMg));
  const neededMg = greenFor(wantedMg, lossBp, stepMg);
  const minimumMg = ceilToStep(drum.minimumChargeMg, stepMg);
  const loads = Math.max(1, Math.ceil(neededMg / usableMg));
  // Equal loads: each rounded up to the step, so that their sum is whole steps and never short.
  const loadMg = Math.max(minimumMg, ceilToStep(neededMg / loads, stepMg));
  const greenMg = loadMg * loads;
  // What comes out is never under the wish, so it is not shown so: rounding may take half a step off.
  const roastedMg = Math.max(wantedMg, roastedFrom(greenMg, lossBp, stepMg));
  const atMinimum = loadMg > ceilToStep(neededMg / loads, stepMg);
  const charge = { drum, loads, greenMg, roastedMg, overMg: roastedMg - wantedMg, lossBp, atMinimum };
  return { ...charge, remarks: remarksOn(charge, units) };
}

function remarksOn(
  { drum, loads, greenMg, overMg, atMinimum }: Omit<Charge, 'remarks'>,
  units: UnitSystem,
): readonly string[] {
  const load = formatWeight(greenMg / loads, units);
  const filled = greenMg / loads / drum.capacityMg;
  const remarks: string[] = [];
  if (loads > 1) remarks.push(`${loads} equal loads of ${load} green.`);
  if (atMinimum) {
    remarks.push(
      `${load} is the least the ${drum.name} takes; about ${formatWeight(overMg, units)} roasted will be over. Sell it alone, keep it for the next table, or add it to a blend.`,
    );
  }
  if (drum.kind === 'sample') {
    remarks.push(
      'A sample roaster will not match the colour and development of the production drum exactly.',
    );
  } else if (filled < 0.25) {
    // Trade magazines quote 20, 25 and 40 % as the smallest batch; we warn and never refuse.
    remarks.push(
      `Under a quarter of the ${drum.name}: the bean probe may not be covered. A sample roaster may be better.`,
    );
  } else if (filled < 0.4) {
    remarks.push(`Under 40 % of the ${drum.name}: watch the bean probe.`);
  }
  return remarks;
}
