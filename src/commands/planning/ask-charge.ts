import type { HouseFacts } from '../../domain/house/house-facts.js';
import { ceilToStep } from '../../domain/measure/scale-step.js';
import { formatWeight } from '../../domain/measure/weight.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { type Charge, planCharge } from '../../domain/roast/charge.js';
import { estimateLoss, type LossEstimate } from '../../domain/roast/loss-estimate.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listRoastsAlone } from '../../store/roasts.js';

/** What an ask proposes to the roaster for some roasted grams, all weights in milligrams. */
export type AskCharge = {
  readonly greenMg: number;
  readonly roastedMg: number;
  readonly overMg: number;
  readonly lossBp: number;
  readonly drum: string;
  /** Short sentences the roaster should read: minimum charge, sample roaster, equal loads. */
  readonly remarks: readonly string[];
};

/** The loss to plan a coffee's next roast with: its own roasts, else its own figure, else the house's. */
export async function lossOf(
  db: DbOrTransaction,
  workspace: string,
  coffee: Coffee,
  house: HouseFacts,
): Promise<LossEstimate> {
  const roasts = await listRoastsAlone(db, workspace, coffee.id);
  return estimateLoss(roasts, coffee.lossBp ?? house.lossDefaultsBp[coffee.level]);
}

/** The charge for some roasted grams at the loss the coffee has shown so far. */
export async function chargeFor(
  db: DbOrTransaction,
  workspace: string,
  coffee: Coffee,
  house: HouseFacts,
  wantedMg: number,
): Promise<AskCharge> {
  const { lossBp } = await lossOf(db, workspace, coffee, house);
  // Whole grams: a drum is not charged to a tenth.
  const wholeMg = ceilToStep(wantedMg, 1000);
  const { proposed, others } = planCharge(wholeMg, lossBp, house.drums, house.batchStepMg, house.unitSystem);
  const less = proposed.atMinimum ? others.find((other) => other.greenMg < proposed.greenMg) : undefined;
  return {
    greenMg: proposed.greenMg,
    roastedMg: proposed.roastedMg,
    overMg: proposed.roastedMg - wantedMg,
    lossBp,
    drum: proposed.drum.name,
    remarks: less ? [...proposed.remarks, insteadOf(less, house)] : proposed.remarks,
  };
}

/** Smaller loads in another drum, where the minimum of the proposed one makes much more than is wanted. */
function insteadOf(charge: Charge, house: HouseFacts): string {
  const load = formatWeight(charge.greenMg / charge.loads, house.unitSystem);
  const loads = charge.loads === 1 ? `One load of ${load}` : `${charge.loads} loads of ${load}`;
  return `${loads} in the ${charge.drum.name} would make less: charge what suits you, and record it.`;
}
