import type { MeasuredLosses } from '../../domain/production/measured-loss.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import {
  countingRoasts,
  estimateLoss,
  type LossEstimate,
  productionRoasts,
} from '../../domain/roast/loss.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { defaultGroupLossBp, loadGroupRoasts, loadProductionLoss } from '../planning/load-plan.js';

/** What the house's own roasts of a recipe's coffees and roast groups have shown in its production drums. */
export async function measuredLosses(
  db: DbOrTransaction,
  workspace: string,
  recipe: Recipe,
  coffees: ReadonlyMap<number, Coffee>,
): Promise<MeasuredLosses> {
  const house = await loadHouse(db, workspace);
  const alone = new Map<number, LossEstimate>();
  for (const coffee of coffees.values()) {
    const estimate = await loadProductionLoss(db, workspace, coffee, house);
    if (estimate.batches > 0) alone.set(coffee.id, estimate);
  }
  const groups = new Map<string, LossEstimate>();
  for (const [group, all] of await loadGroupRoasts(db, workspace, recipe)) {
    const fallback = defaultGroupLossBp(recipe, group, coffees, house);
    const roasts = countingRoasts(productionRoasts(all, house.drums), fallback);
    if (roasts.length > 0) groups.set(group, estimateLoss(roasts, fallback));
  }
  return { coffees: alone, groups };
}
