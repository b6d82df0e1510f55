import type { Recipe } from '../../domain/record/recipe.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { listCoffees } from '../../store/coffees.js';
import { loadHouse } from '../../store/house.js';
import { archiveRecipe, findRecipeVersion, listRecipes } from '../../store/recipes.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { Id, readValue } from '../common/values.js';
import type { Who } from '../common/who.js';
import type { RecipeDraft } from './recipe-form.js';
import { recipeForm } from './recipe-form.js';
import { recipeListMessage, versionsMessage } from './recipe-list-message.js';
import { loadVersions, requireRecipe } from './recipe-load.js';
import { groupsOf } from './recipe-parts.js';
import { recipeCard, saveRecipe } from './recipe-save.js';

/** All blends. */
export async function listRecipesFor(deps: Deps, who: Who): Promise<Answer> {
  const coffees = await listCoffees(deps.db, who.workspace);
  const byId = new Map(coffees.map((coffee) => [coffee.id, coffee]));
  return { message: recipeListMessage(await listRecipes(deps.db, who.workspace), byId) };
}

/** One blend, from the list's menu or a button. */
export async function openTap(deps: Deps, tap: Tap): Promise<Answer> {
  return { message: await recipeCard(deps.db, tap.who.workspace, readValue(Id, tap.value)) };
}

/** The form of a new blend, or of one that is there, filled in. */
export async function openRecipeForm(
  deps: Deps,
  who: Who,
  recipe: Recipe | null,
  name = '',
): Promise<Answer> {
  const coffees = await listCoffees(deps.db, who.workspace);
  if (coffees.length < 2) {
    throw new KindRefusal(
      'not now',
      'A blend needs at least two coffees, and there are not that many yet.',
      'Add them first: `/spoon shelf add`.',
    );
  }
  return { form: recipeForm(recipe ? draftOf(recipe) : newDraft(name), coffees) };
}

/** The button that changes a blend. */
export async function changeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const recipe = await requireRecipe(deps.db, tap.who.workspace, readValue(Id, tap.value));
  return openRecipeForm(deps, tap.who, recipe);
}

/** The history of a blend. */
export async function showVersions(deps: Deps, who: Who, recipeId: number): Promise<Answer> {
  const facts = await loadHouse(deps.db, who.workspace);
  return { message: versionsMessage(await loadVersions(deps.db, who.workspace, facts, recipeId)) };
}

/** Takes up an older version again, as the newest one. */
export async function againTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { workspace } = tap.who;
  const old = await findRecipeVersion(deps.db, workspace, readValue(Id, tap.value));
  if (!old) throw new KindRefusal('not found', 'That version is gone.', 'See `/spoon recipe`.');
  const why = `Version ${old.version} again.`;
  const saved = { recipeId: old.id, name: null, parts: old.parts, groupLossBp: old.groupLossBp, why };
  const { newVersion } = await saveRecipe(deps, tap.who, saved);
  const done = newVersion ? why : `It is as in version ${old.version} already.`;
  return { message: await recipeCard(deps.db, workspace, old.id, done) };
}

/** Takes a blend out of use; booked tastings of it stay. */
export async function archiveRecipeOf(deps: Deps, who: Who, recipeId: number): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change recipe');
    const recipe = await requireRecipe(trx, who.workspace, recipeId);
    await archiveRecipe(trx, who.workspace, recipeId, deps.clock.now());
    return {
      message: say(
        `Archived *${mrkdwn(recipe.name)}*. Its versions and tastings stay on record.`,
        ...buttons(button('All blends', 'recipe.list', {})),
      ),
    };
  });
}

function newDraft(name: string): RecipeDraft {
  const rows = Array.from({ length: 3 }, () => ({ coffee: '', part: '' }));
  return { recipe: null, name, rows, groups: [], why: '' };
}

function draftOf(recipe: Recipe): RecipeDraft {
  const ids = recipe.parts.map((part) => part.coffeeId);
  return {
    recipe: recipe.id,
    name: recipe.name,
    rows: recipe.parts.map((part) => ({ coffee: String(part.coffeeId), part: String(part.parts) })),
    groups: groupsOf(recipe, ids).map(({ coffeeIds, lossBp }) => ({ coffees: coffeeIds, lossBp })),
    why: '',
  };
}
