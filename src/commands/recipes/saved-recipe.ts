import type { HouseFacts } from '../../domain/house/house-facts.js';
import { blendCost } from '../../domain/production/blend-cost.js';
import { type RoastGroupNote, roastGroups } from '../../domain/production/roast-groups.js';
import { shares } from '../../domain/ratio/parts.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { tastingName } from '../../domain/record/tasting.js';
import { formatShortDay, localDay } from '../../domain/when/local-day.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { coffeesById } from '../../store/coffees.js';
import { type Db, inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import {
  addRecipeVersion,
  findRecipe,
  insertRecipe,
  listRecipes,
  listRecipeVersions,
  renameRecipe,
} from '../../store/recipes.js';
import { findTasting } from '../../store/tastings.js';
import type { Answer, Deps } from '../common/bot.js';
import { requireFreeName, type Who } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { loadProductionLoss } from '../planning/load-plan.js';
import { type RecipeShown, recipeCardMessage, type VersionShown } from './recipe-messages.js';
import type { RecipeParts } from './recipe-words.js';

/** Enough that no share is lost to the scale step when a cost per kilogram is worked out. */
const COSTED_MG = 100_000_000;

/** A blend in use, or a refusal that says how to see the others. */
export async function requireRecipe(db: Db, workspace: string, recipeId: number): Promise<Recipe> {
  const recipes = await listRecipes(db, workspace);
  const recipe = recipes.find((known) => known.id === recipeId);
  if (recipe) return recipe;
  const gone = await findRecipe(db, workspace, recipeId);
  const name = gone ? `“${mrkdwn(gone.name)}”` : 'That blend';
  throw new UserError(`${name} is no longer in use.`, 'See `/spoon recipe`.');
}

/** A blend with its roast groups, cost and history, ready to be shown. */
async function loadRecipeShown(
  db: Db,
  workspace: string,
  facts: HouseFacts,
  recipe: Recipe,
): Promise<RecipeShown> {
  const ids = recipe.parts.map((part) => part.coffeeId);
  const coffees = await withOwnLosses(db, workspace, facts, await coffeesById(db, workspace, ids));
  const weighed = shares(recipe.parts.map(({ parts }) => parts)).map((share) =>
    Math.round(COSTED_MG * share),
  );
  const groups = recipeGroups(recipe, coffees, weighed, facts);
  const prices = new Map([...coffees].map(([id, coffee]) => [id, coffee.greenPriceCents]));
  const versions = await loadVersions(db, workspace, facts, recipe.id);
  const latest = versions.find((version) => version.recipe.versionId === recipe.versionId) ?? versions[0];
  if (!latest) throw new Error(`recipe ${recipe.id} has no version`);
  const cost = blendCost(groups, prices, facts);
  return { recipe, coffees, groups, cost, latest, versions: versions.length };
}

/**
 * What of a blend is roasted together, coffees that are gone left out.
 *
 * @param roastedMg roasted weights in recipe order
 */
export function recipeGroups(
  recipe: Recipe,
  coffees: ReadonlyMap<number, Coffee>,
  roastedMg: readonly number[],
  facts: HouseFacts,
): readonly RoastGroupNote[] {
  const portions = recipe.parts.flatMap(({ coffeeId, parts, roastGroup }, index) => {
    const coffee = coffees.get(coffeeId);
    return coffee ? [{ coffee, roastGroup, roastedMg: roastedMg[index] ?? 0, part: parts }] : [];
  });
  return roastGroups(portions, recipe.groupLossBp, facts);
}

/** The history of a blend, newest first. */
export async function loadVersions(
  db: Db,
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
  db: Db,
  workspace: string,
  facts: HouseFacts,
  coffees: ReadonlyMap<number, Coffee>,
): Promise<ReadonlyMap<number, Coffee>> {
  const known = new Map<number, Coffee>();
  for (const [id, coffee] of coffees) {
    const loss = await loadProductionLoss(db, workspace, coffee, facts);
    known.set(id, loss.batches > 0 ? { ...coffee, lossBp: loss.lossBp } : coffee);
  }
  return known;
}

/** What to do about a name that a blend cannot have. */
const NAMING = {
  like: 'Like `/spoon recipe add "Harbour Lamp" …`',
  instead: 'Give this one another name, or change that one: `/spoon recipe`.',
};

/** A blend to keep: new, or the next version of one. */
type SavedRecipe = Omit<RecipeParts, 'saidSo'> & {
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
    throw new UserError('A blend needs at least two coffees with a part each.', null, 'coffee1');
  }
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change recipe');
    if (name !== null) {
      const inUse = await listRecipes(trx, who.workspace);
      requireFreeName({ name, own: recipeId, thing: 'blend', ...NAMING }, inUse);
    }
    const version = { parts, groupLossBp, tastingId: null, who: who.person, at: deps.clock.now() };
    if (recipeId === null) {
      const why = saved.why ?? 'The first version.';
      const id = await insertRecipe(trx, { ...version, workspace: who.workspace, name: name ?? '', why });
      return { recipeId: id, newVersion: true };
    }
    const current = await requireRecipe(trx, who.workspace, recipeId);
    if (name !== null && name !== current.name) await renameRecipe(trx, who.workspace, recipeId, name);
    if (isSame(current, saved)) return { recipeId, newVersion: false };
    const why = saved.why ?? 'Changed by hand.';
    await addRecipeVersion(trx, { ...version, workspace: who.workspace, recipeId, why });
    return { recipeId, newVersion: true };
  });
}

/** The card of a blend; `done` says what just happened, `saidSo` how its parts were read. */
export async function showRecipe(
  { db }: Deps,
  who: Who,
  recipeId: number,
  done?: string,
  saidSo: string | null = null,
): Promise<Answer> {
  const facts = await loadHouse(db, who.workspace);
  const recipe = await requireRecipe(db, who.workspace, recipeId);
  const said = done && saidSo ? `${done} ${mrkdwn(saidSo)}` : done;
  return { message: recipeCardMessage(await loadRecipeShown(db, who.workspace, facts, recipe), facts, said) };
}

type Joined = Pick<Recipe, 'parts' | 'groupLossBp'>;

function isSame(a: Joined, b: Joined): boolean {
  const told = ({ parts, groupLossBp }: Joined) =>
    JSON.stringify([
      parts.map((part) => [part.coffeeId, part.parts, part.roastGroup]),
      [...groupLossBp].sort(),
    ]);
  return told(a) === told(b);
}
