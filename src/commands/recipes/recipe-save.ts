import type { Recipe, RecipePart } from '../../domain/record/recipe.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { addRecipeVersion, insertRecipe, listRecipes, renameRecipe } from '../../store/recipes.js';
import { inTransaction } from '../../store/transaction.js';
import type { Deps } from '../common/deps.js';
import { requireAllowed } from '../common/standing.js';
import type { Who } from '../common/who.js';
import { recipeCardMessage } from './recipe-card-message.js';
import { loadRecipeShown, requireRecipe } from './recipe-load.js';
import type { RecipeParts } from './recipe-parts.js';

/** A blend to keep: new, or the next version of one. */
export type SavedRecipe = Omit<RecipeParts, 'saidSo'> & {
  readonly recipeId: number | null;
  /** Null keeps the name as it is. */
  readonly name: string | null;
  readonly why: string | null;
};

/** Keeps a blend; returns its id and whether its parts or groups became a new version. */
export async function saveRecipe(
  deps: Deps,
  who: Who,
  saved: SavedRecipe,
): Promise<{ readonly recipeId: number; readonly newVersion: boolean }> {
  const { parts, groupLossBp, recipeId, name } = saved;
  if (parts.length < 2) {
    throw new KindRefusal(
      'not understood',
      'A blend needs at least two coffees with a part each.',
      null,
      'coffee1',
    );
  }
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change recipe');
    if (name !== null) await requireFreeRecipeName(trx, who.workspace, name, recipeId);
    const version = { parts, groupLossBp, tastingId: null, who: who.person, at: deps.clock.now() };
    if (recipeId === null) {
      const why = saved.why ?? 'The first version.';
      const id = await insertRecipe(trx, { ...version, workspace: who.workspace, name: name ?? '', why });
      return { recipeId: id, newVersion: true };
    }
    const current = await requireRecipe(trx, who.workspace, recipeId);
    if (name !== null && name !== current.name) await renameRecipe(trx, who.workspace, recipeId, name);
    if (isSame(current, parts, groupLossBp)) return { recipeId, newVersion: false };
    const why = saved.why ?? 'Changed by hand.';
    await addRecipeVersion(trx, { ...version, workspace: who.workspace, recipeId, why });
    return { recipeId, newVersion: true };
  });
}

/** The card of a blend; `done` says what just happened. */
export async function recipeCard(
  db: DbOrTransaction,
  workspace: string,
  recipeId: number,
  done?: string,
): Promise<Message> {
  const facts = await loadHouse(db, workspace);
  const recipe = await requireRecipe(db, workspace, recipeId);
  return recipeCardMessage(await loadRecipeShown(db, workspace, facts, recipe), facts, done);
}

async function requireFreeRecipeName(
  db: DbOrTransaction,
  workspace: string,
  name: string,
  own: number | null,
): Promise<void> {
  if (name.length < 1 || name.length > 80) {
    throw new KindRefusal(
      'not understood',
      'A name has 1 to 80 characters.',
      'Like `/spoon recipe add "Harbour Lamp" …`',
      'name',
    );
  }
  const recipes = await listRecipes(db, workspace);
  const same = recipes.find((recipe) => recipe.name.toLowerCase() === name.toLowerCase());
  if (!same || same.id === own) return;
  throw new KindRefusal(
    'already there',
    `There is a blend called ${mrkdwn(same.name)} already.`,
    'Give this one another name, or change that one: `/spoon recipe`.',
    'name',
  );
}

function isSame(
  recipe: Recipe,
  parts: readonly RecipePart[],
  groupLossBp: ReadonlyMap<string, number>,
): boolean {
  const told = (of: readonly RecipePart[], losses: ReadonlyMap<string, number>) =>
    JSON.stringify([of.map((part) => [part.coffeeId, part.parts, part.roastGroup]), [...losses].sort()]);
  return told(recipe.parts, recipe.groupLossBp) === told(parts, groupLossBp);
}
