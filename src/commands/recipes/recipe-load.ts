import type { HouseFacts } from '../../domain/house/house-facts.js';
import { blendCost } from '../../domain/production/blend-cost.js';
import { roastGroups } from '../../domain/production/roast-groups.js';
import { shares } from '../../domain/ratio/parts.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { tastingName } from '../../domain/record/tasting.js';
import { estimateLoss } from '../../domain/roast/loss-estimate.js';
import { formatShortDay } from '../../domain/when/format-when.js';
import { localDay } from '../../domain/when/local-day.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { coffeesById } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findRecipe, listRecipes, listRecipeVersions } from '../../store/recipes.js';
import { listRoastsAlone } from '../../store/roasts.js';
import { findTasting } from '../../store/tastings.js';
import type { RecipeShown, VersionShown } from './recipe-view-message.js';

/** Enough that no share is lost to the scale step when a cost per kilogram is worked out. */
const COSTED_MG = 100_000_000;

/** A blend in use, or a refusal that says how to see the others. */
export async function requireRecipe(
  db: DbOrTransaction,
  workspace: string,
  recipeId: number,
): Promise<Recipe> {
  const recipes = await listRecipes(db, workspace);
  const recipe = recipes.find((known) => known.id === recipeId);
  if (recipe) return recipe;
  const gone = await findRecipe(db, workspace, recipeId);
  const name = gone ? `“${mrkdwn(gone.name)}”` : 'That blend';
  throw new KindRefusal('not found', `${name} is no longer in use.`, 'See `/spoon recipe`.');
}

/** A blend with its roast groups, cost and history, ready to be shown. */
export async function loadRecipeShown(
  db: DbOrTransaction,
  workspace: string,
  facts: HouseFacts,
  recipe: Recipe,
): Promise<RecipeShown> {
  const ids = recipe.parts.map((part) => part.coffeeId);
  const coffees = await withOwnLosses(db, workspace, facts, await coffeesById(db, workspace, ids));
  const portions = recipe.parts.flatMap((part, index) => {
    const coffee = coffees.get(part.coffeeId);
    const share = shares(recipe.parts.map((other) => other.parts))[index] ?? 0;
    const roastedMg = Math.round(COSTED_MG * share);
    return coffee ? [{ coffee, roastGroup: part.roastGroup, roastedMg }] : [];
  });
  const groups = roastGroups(portions, recipe.groupLossBp, facts);
  const prices = new Map([...coffees].map(([id, coffee]) => [id, coffee.greenPriceCents]));
  const versions = await loadVersions(db, workspace, facts, recipe.id);
  const latest = versions.find((version) => version.recipe.versionId === recipe.versionId) ?? versions[0];
  if (!latest) throw new Error(`recipe ${recipe.id} has no version`);
  const cost = blendCost(groups, prices, facts);
  return { recipe, coffees, groups, cost, latest, versions: versions.length };
}

/** The history of a blend, newest first. */
export async function loadVersions(
  db: DbOrTransaction,
  workspace: string,
  facts: HouseFacts,
  recipeId: number,
): Promise<readonly VersionShown[]> {
  const shown: VersionShown[] = [];
  for (const version of await listRecipeVersions(db, workspace, recipeId)) {
    const tasting = version.tastingId === null ? null : await findTasting(db, workspace, version.tastingId);
    shown.push({
      recipe: version.recipe,
      why: version.why,
      tasting: tasting ? tastingName(tasting) : null,
      who: version.who,
      day: formatShortDay(localDay(version.at, facts.timeZone)),
    });
  }
  return shown;
}

/** A coffee's own roasts say more about its loss than what was typed once. */
async function withOwnLosses(
  db: DbOrTransaction,
  workspace: string,
  facts: HouseFacts,
  coffees: ReadonlyMap<number, Coffee>,
): Promise<ReadonlyMap<number, Coffee>> {
  const known = new Map<number, Coffee>();
  for (const [id, coffee] of coffees) {
    const roasts = await listRoastsAlone(db, workspace, id);
    const loss = estimateLoss(roasts, coffee.lossBp ?? facts.lossDefaultsBp[coffee.level]);
    known.set(id, loss.batches > 0 ? { ...coffee, lossBp: loss.lossBp } : coffee);
  }
  return known;
}
