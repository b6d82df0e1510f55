import type { Selectable } from 'kysely';
import type { Recipe } from '../domain/record/recipe.js';
import type { Db } from './db.js';
import type { Tables } from './schema.js';

/** Who made a version of a recipe, when and why; the tasting whose winning ratio it is, when it came from one. */
type Origin = {
  readonly why: string;
  readonly tastingId: number | null;
  readonly who: string;
  readonly at: Date;
};

/** One entry of a recipe's history: what it was and how it came to be. */
export type RecipeVersion = Origin & { readonly recipe: Recipe };

/** What a version is made of and how it came to be. */
export type NewVersion = Origin & Pick<Recipe, 'parts' | 'groupLossBp'>;

/** Recipes in use as they stand, by name; archived ones are left out. */
export async function listRecipes(db: Db, workspace: string): Promise<readonly Recipe[]> {
  const rows = await versions(db, workspace).where('archived_at', 'is', null).orderBy('version').execute();
  const latest = new Map(rows.map((row) => [row.recipe_id, row]));
  const recipes = await Promise.all([...latest.values()].map((row) => toRecipe(db, row)));
  return recipes.sort((a, b) => a.name.localeCompare(b.name, 'en') || a.id - b.id);
}

/** A recipe as it stands, archived or not, or null. */
export async function findRecipe(db: Db, workspace: string, recipeId: number): Promise<Recipe | null> {
  const row = await versions(db, workspace)
    .where('recipe_id', '=', recipeId)
    .orderBy('version', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row ? toRecipe(db, row) : null;
}

/** The recipe as it was in one of its versions (a tasting names the version it is about), or null. */
export async function findRecipeVersion(
  db: Db,
  workspace: string,
  versionId: number,
): Promise<Recipe | null> {
  const row = await versions(db, workspace).where('recipe_version.id', '=', versionId).executeTakeFirst();
  return row ? toRecipe(db, row) : null;
}

/** The history of a recipe, newest version first. */
export async function listRecipeVersions(
  db: Db,
  workspace: string,
  recipeId: number,
): Promise<readonly RecipeVersion[]> {
  const rows = await versions(db, workspace)
    .where('recipe_id', '=', recipeId)
    .orderBy('version', 'desc')
    .execute();
  return Promise.all(
    rows.map(async (row) => ({
      recipe: await toRecipe(db, row),
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
  db: Db,
  recipe: { readonly workspace: string; readonly name: string } & NewVersion,
): Promise<number> {
  const { workspace, name, who, at } = recipe;
  const { id } = await db
    .insertInto('recipe')
    .values({ workspace, name, archived_at: null, created_at: at.toISOString(), created_by: who })
    .returning('id')
    .executeTakeFirstOrThrow();
  await addRecipeVersion(db, { ...recipe, recipeId: id });
  return id;
}

/** Adds the next version of a recipe (a winning ratio, or a change by hand); returns the version's id. */
export async function addRecipeVersion(
  db: Db,
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
  const rows = version.parts.map(({ coffeeId, parts, roastGroup }, position) => {
    return { version_id: id, position, coffee_id: coffeeId, parts, roast_group: roastGroup };
  });
  await db.insertInto('recipe_part').values(rows).execute();
  const groups = new Set(version.parts.flatMap((part) => part.roastGroup ?? []));
  for (const name of groups) {
    const loss_bp = version.groupLossBp.get(name) ?? null;
    await db.insertInto('roast_group').values({ version_id: id, name, loss_bp }).execute();
  }
  return id;
}

/** Gives a recipe another name; its history keeps its versions. */
export async function renameRecipe(db: Db, workspace: string, recipeId: number, name: string): Promise<void> {
  await db
    .updateTable('recipe')
    .set({ name })
    .where((eb) => eb.and({ workspace, id: recipeId }))
    .execute();
}

/** Takes a recipe out of use; its versions and tastings stay. */
export async function archiveRecipe(db: Db, workspace: string, recipeId: number, at: Date): Promise<void> {
  await db
    .updateTable('recipe')
    .set({ archived_at: at.toISOString() })
    .where((eb) => eb.and({ workspace, id: recipeId, archived_at: null }))
    .execute();
}

/** Versions with the name of their recipe. */
function versions(db: Db, workspace: string) {
  return db
    .selectFrom('recipe_version')
    .innerJoin('recipe', 'recipe.id', 'recipe_version.recipe_id')
    .selectAll('recipe_version')
    .select('recipe.name')
    .where('recipe_version.workspace', '=', workspace);
}

type VersionRow = Selectable<Tables['recipe_version']> & { readonly name: string };

async function toRecipe(db: Db, row: VersionRow): Promise<Recipe> {
  const parts = await db
    .selectFrom('recipe_part')
    .select(['coffee_id as coffeeId', 'parts', 'roast_group as roastGroup'])
    .where('version_id', '=', row.id)
    .orderBy('position')
    .execute();
  const groups = await db.selectFrom('roast_group').selectAll().where('version_id', '=', row.id).execute();
  return {
    id: row.recipe_id,
    name: row.name,
    versionId: row.id,
    version: row.version,
    parts,
    groupLossBp: new Map(
      groups.flatMap(({ name, loss_bp }): [string, number][] => (loss_bp === null ? [] : [[name, loss_bp]])),
    ),
  };
}
