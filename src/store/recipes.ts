import type { Selectable } from 'kysely';
import type { Recipe, RecipePart } from '../domain/record/recipe.js';
import type { DbOrTransaction } from './db.js';
import type { RecipeTable, RecipeVersionTable } from './schema.js';

/** One entry of a recipe's history: what it was, who made it so, when and why. */
export type RecipeVersion = {
  readonly recipe: Recipe;
  readonly why: string;
  /** The tasting whose winning ratio it is, when it came from one. */
  readonly tastingId: number | null;
  readonly who: string;
  readonly at: Date;
};

/** What a version is made of and how it came to be. */
export type NewVersion = {
  readonly parts: readonly RecipePart[];
  /** Measured loss of a roast group, hundredths of a percent, where known. */
  readonly groupLossBp: ReadonlyMap<string, number>;
  readonly why: string;
  readonly tastingId: number | null;
  readonly who: string;
  readonly at: Date;
};

/** Recipes in use as they stand, by name; archived ones are left out. */
export async function listRecipes(db: DbOrTransaction, workspace: string): Promise<readonly Recipe[]> {
  const rows = await db
    .selectFrom('recipe')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('archived_at', 'is', null)
    .execute();
  const recipes = await Promise.all(rows.map((row) => latest(db, row)));
  return recipes.sort((a, b) => a.name.localeCompare(b.name, 'en') || a.id - b.id);
}

/** A recipe as it stands, archived or not, or null. */
export async function findRecipe(
  db: DbOrTransaction,
  workspace: string,
  recipeId: number,
): Promise<Recipe | null> {
  const row = await db
    .selectFrom('recipe')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('id', '=', recipeId)
    .executeTakeFirst();
  return row ? latest(db, row) : null;
}

/** The recipe as it was in one of its versions (a tasting names the version it is about), or null. */
export async function findRecipeVersion(
  db: DbOrTransaction,
  workspace: string,
  versionId: number,
): Promise<Recipe | null> {
  const version = await db
    .selectFrom('recipe_version')
    .innerJoin('recipe', 'recipe.id', 'recipe_version.recipe_id')
    .select(['recipe_version.id', 'version', 'recipe_id', 'name'])
    .where('recipe_version.workspace', '=', workspace)
    .where('recipe_version.id', '=', versionId)
    .executeTakeFirst();
  return version ? toRecipe(db, { id: version.recipe_id, name: version.name }, version) : null;
}

/** The history of a recipe, newest version first. */
export async function listRecipeVersions(
  db: DbOrTransaction,
  workspace: string,
  recipeId: number,
): Promise<readonly RecipeVersion[]> {
  const rows = await db
    .selectFrom('recipe_version')
    .innerJoin('recipe', 'recipe.id', 'recipe_version.recipe_id')
    .selectAll('recipe_version')
    .select('recipe.name')
    .where('recipe_version.workspace', '=', workspace)
    .where('recipe_id', '=', recipeId)
    .orderBy('version', 'desc')
    .execute();
  return Promise.all(
    rows.map(async (row) => ({
      recipe: await toRecipe(db, { id: recipeId, name: row.name }, row),
      why: row.why,
      tastingId: row.tasting_id,
      who: row.created_by,
      at: new Date(row.created_at),
    })),
  );
}

/**
 * Adds a recipe with its first version; returns the recipe's id.
 *
 * @throws when a recipe in use already has that name, or a coffee appears twice in the parts
 */
export async function insertRecipe(
  db: DbOrTransaction,
  recipe: { readonly workspace: string; readonly name: string } & NewVersion,
): Promise<number> {
  const { id } = await db
    .insertInto('recipe')
    .values({
      workspace: recipe.workspace,
      name: recipe.name,
      archived_at: null,
      created_at: recipe.at.toISOString(),
      created_by: recipe.who,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  await addRecipeVersion(db, { ...recipe, recipeId: id });
  return id;
}

/** Adds the next version of a recipe (a winning ratio, or a change by hand); returns the version's id. */
export async function addRecipeVersion(
  db: DbOrTransaction,
  version: { readonly workspace: string; readonly recipeId: number } & NewVersion,
): Promise<number> {
  const { last } = await db
    .selectFrom('recipe_version')
    .select((eb) => eb.fn.max('version').as('last'))
    .where('recipe_id', '=', version.recipeId)
    .executeTakeFirstOrThrow();
  const { id } = await db
    .insertInto('recipe_version')
    .values({
      workspace: version.workspace,
      recipe_id: version.recipeId,
      version: (last ?? 0) + 1,
      why: version.why,
      tasting_id: version.tastingId,
      created_at: version.at.toISOString(),
      created_by: version.who,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  const parts = version.parts.map((part, position) => ({
    version_id: id,
    position,
    coffee_id: part.coffeeId,
    parts: part.parts,
    roast_group: part.roastGroup,
  }));
  await db.insertInto('recipe_part').values(parts).execute();
  const groups = new Set(version.parts.flatMap((part) => part.roastGroup ?? []));
  for (const name of groups) {
    const loss_bp = version.groupLossBp.get(name) ?? null;
    await db.insertInto('roast_group').values({ version_id: id, name, loss_bp }).execute();
  }
  return id;
}

/** Gives a recipe another name; its history keeps its versions. */
export async function renameRecipe(
  db: DbOrTransaction,
  workspace: string,
  recipeId: number,
  name: string,
): Promise<void> {
  await db
    .updateTable('recipe')
    .set({ name })
    .where('workspace', '=', workspace)
    .where('id', '=', recipeId)
    .execute();
}

/** Takes a recipe out of use; its versions and tastings stay. */
export async function archiveRecipe(
  db: DbOrTransaction,
  workspace: string,
  recipeId: number,
  at: Date,
): Promise<void> {
  await db
    .updateTable('recipe')
    .set({ archived_at: at.toISOString() })
    .where('workspace', '=', workspace)
    .where('id', '=', recipeId)
    .where('archived_at', 'is', null)
    .execute();
}

type Named = Pick<Selectable<RecipeTable>, 'id' | 'name'>;
type Version = Pick<Selectable<RecipeVersionTable>, 'id' | 'version'>;

async function latest(db: DbOrTransaction, row: Named): Promise<Recipe> {
  const version = await db
    .selectFrom('recipe_version')
    .select(['id', 'version'])
    .where('recipe_id', '=', row.id)
    .orderBy('version', 'desc')
    .limit(1)
    .executeTakeFirstOrThrow();
  return toRecipe(db, row, version);
}

async function toRecipe(db: DbOrTransaction, recipe: Named, version: Version): Promise<Recipe> {
  const parts = await db
    .selectFrom('recipe_part')
    .select(['coffee_id as coffeeId', 'parts', 'roast_group as roastGroup'])
    .where('version_id', '=', version.id)
    .orderBy('position')
    .execute();
  const groups = await db
    .selectFrom('roast_group')
    .selectAll()
    .where('version_id', '=', version.id)
    .execute();
  return {
    id: recipe.id,
    name: recipe.name,
    versionId: version.id,
    version: version.version,
    parts,
    groupLossBp: new Map(
      groups.flatMap(({ name, loss_bp }): [string, number][] => (loss_bp === null ? [] : [[name, loss_bp]])),
    ),
  };
}
