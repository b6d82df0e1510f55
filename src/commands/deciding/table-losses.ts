import { joinedLossBp } from '../../domain/production/green-shares.js';
import { type MeasuredLosses, roastsOfGroup } from '../../domain/production/measured-loss.js';
import { plannedLossBp } from '../../domain/production/roast-groups.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { estimateLoss, type LossEstimate } from '../../domain/roast/loss-estimate.js';
import type { DbOrTransaction } from '../../store/db.js';
import { type GroupRoast, listGroupRoasts } from '../../store/group-roasts.js';
import { loadHouse } from '../../store/house.js';
import { listRecipeVersions } from '../../store/recipes.js';
import { lossOf } from '../planning/ask-charge.js';

/** What the house's own roasts of a recipe's coffees and roast groups have shown. */
export async function measuredLosses(
  db: DbOrTransaction,
  workspace: string,
  recipe: Recipe,
  coffees: ReadonlyMap<number, Coffee>,
): Promise<MeasuredLosses> {
  const house = await loadHouse(db, workspace);
  const alone = new Map<number, LossEstimate>();
  for (const coffee of coffees.values()) {
    const estimate = await lossOf(db, workspace, coffee, house);
    if (estimate.batches > 0) alone.set(coffee.id, estimate);
  }
  const groups = new Map<string, LossEstimate>();
  for (const [group, roasts] of await roastsByGroup(db, workspace, recipe)) {
    const members = recipe.parts.filter((part) => part.roastGroup === group);
    const losses = members.flatMap(({ coffeeId }) => {
      const coffee = coffees.get(coffeeId);
      return coffee ? [plannedLossBp(coffee, house)] : [];
    });
    const parts = members.map((part) => part.parts);
    if (roasts.length > 0) groups.set(group, estimateLoss(roasts, joinedLossBp(parts, losses)));
  }
  return { coffees: alone, groups };
}

/** The roasts that speak for each of a recipe's groups, oldest first. */
export async function roastsByGroup(
  db: DbOrTransaction,
  workspace: string,
  recipe: Recipe,
): Promise<ReadonlyMap<string, readonly GroupRoast[]>> {
  const versions = await listRecipeVersions(db, workspace, recipe.id);
  const roasts = await listGroupRoasts(db, workspace, recipe.id);
  const groups = new Set(recipe.parts.flatMap((part) => part.roastGroup ?? []));
  return new Map(
    [...groups].map((group) => {
      const own = roasts.filter((roast) => roast.group === group);
      return [group, roastsOfGroup(own, group, recipe, versions)];
    }),
  );
}
