import { coffeeName } from '../../domain/record/table-setting.js';
import { shorten } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { swapCoffee } from '../../store/ask-cups.js';
import { findCoffee } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findRecipe, insertRecipe, listRecipes } from '../../store/recipes.js';
import { updateTasting } from '../../store/tastings.js';
import type { AskContext } from '../planning/ask-settle.js';
import type { TableNeed } from '../planning/plan-roasts-supply.js';
import { nearestOnShelf } from './ask-nearest.js';

const NAME_LIMIT = 80;

/**
 * Puts a coffee of the shelf in the place of one that will not be there. What is then tasted is another
 * blend, so it becomes a recipe of its own: the real one keeps its parts and its history.
 */
export async function swapForNearest(
  trx: DbOrTransaction,
  context: AskContext,
  table: TableNeed,
  coffeeId: number,
  otherId: number,
): Promise<{ readonly missing: string; readonly other: string; readonly recipe: string }> {
  const { workspace, now, who } = context;
  const { tasting, recipe, coffees } = table.setting;
  const other = await findCoffee(trx, workspace, otherId);
  const nearest = await nearestOnShelf(trx, workspace, table, coffeeId, context.house);
  if (!other || nearest?.coffeeId !== otherId)
    throw new KindRefusal(
      'not now',
      'That coffee is not free on the shelf any more.',
      'Look with `/spoon shelf`',
    );
  const missing = coffeeName(coffees, coffeeId);
  const name = await freeName(trx, workspace, `${recipe.name}, ${other.name} for ${missing}`);
  const recipeId = await insertRecipe(trx, {
    workspace,
    name,
    parts: recipe.parts.map((part) =>
      part.coffeeId === coffeeId ? { ...part, coffeeId: otherId, roastGroup: null } : part,
    ),
    groupLossBp: new Map(),
    why: `${other.name} stands in for ${missing}.`,
    tastingId: tasting.id,
    who,
    at: now,
  });
  const standIn = await findRecipe(trx, workspace, recipeId);
  if (!standIn) throw new Error(`recipe ${recipeId} was not kept`);
  await swapCoffee(trx, workspace, tasting.id, coffeeId, otherId);
  const detail = { from: coffeeId, to: otherId };
  await updateTasting(
    trx,
    { id: tasting.id, workspace },
    { recipe_version_id: standIn.versionId },
    { who, at: now, change: 'coffee swapped', detail },
  );
  return { missing, other: other.name, recipe: name };
}

async function freeName(trx: DbOrTransaction, workspace: string, wanted: string): Promise<string> {
  const taken = new Set((await listRecipes(trx, workspace)).map((recipe) => recipe.name.toLowerCase()));
  for (let count = 1; ; count += 1) {
    const ending = count === 1 ? '' : ` (${count})`;
    const name = `${shorten(wanted, NAME_LIMIT - ending.length)}${ending}`;
    if (!taken.has(name.toLowerCase())) return name;
  }
}
