import type { Selectable } from 'kysely';
import { z } from 'zod';
import { LEVELS, type Level } from '../domain/record/coffee.js';
import type { DbOrTransaction } from './db.js';
import type { RoastTable } from './schema.js';

const LevelColumn = z.enum(LEVELS).nullable().catch(null);

/** One roast as it came out: green in, roasted out. A group roast names its recipe and group as well. */
export type Roast = {
  readonly id: number;
  readonly coffeeId: number;
  readonly recipeId: number | null;
  readonly roastGroup: string | null;
  readonly greenMg: number;
  readonly roastedMg: number;
  /** Day in the house's time zone, 'YYYY-MM-DD'. */
  readonly roastedOn: string;
  readonly level: Level | null;
  /** On the infrared scale of the house; higher is lighter. */
  readonly colour: number | null;
  readonly remarks: string | null;
};

/**
 * Records a roast and returns its id.
 *
 * @throws when more came out than went in (a check of the schema)
 */
export async function insertRoast(
  db: DbOrTransaction,
  roast: Omit<Roast, 'id'> & { readonly workspace: string; readonly who: string; readonly at: Date },
): Promise<number> {
  const { id } = await db
    .insertInto('roast')
    .values({
      workspace: roast.workspace,
      coffee_id: roast.coffeeId,
      recipe_id: roast.recipeId,
      roast_group: roast.roastGroup,
      green_mg: roast.greenMg,
      roasted_mg: roast.roastedMg,
      roasted_on: roast.roastedOn,
      level: roast.level,
      colour: roast.colour,
      remarks: roast.remarks,
      created_at: roast.at.toISOString(),
      created_by: roast.who,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** Roasts of one coffee alone, oldest first: its own history of losses. */
export async function listRoastsAlone(
  db: DbOrTransaction,
  workspace: string,
  coffeeId: number,
): Promise<readonly Roast[]> {
  const rows = await db
    .selectFrom('roast')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('coffee_id', '=', coffeeId)
    .where('recipe_id', 'is', null)
    .orderBy('roasted_on')
    .orderBy('id')
    .execute();
  return rows.map(toRoast);
}

function toRoast(row: Selectable<RoastTable>): Roast {
  return {
    id: row.id,
    coffeeId: row.coffee_id,
    recipeId: row.recipe_id,
    roastGroup: row.roast_group,
    greenMg: row.green_mg,
    roastedMg: row.roasted_mg,
    roastedOn: row.roasted_on,
    level: LevelColumn.parse(row.level),
    colour: row.colour,
    remarks: row.remarks,
  };
}

/** One roast of a roast group, and when it was recorded. Milligrams. */
export type GroupRoast = {
  readonly group: string;
  readonly greenMg: number;
  readonly roastedMg: number;
  readonly recordedAt: Date;
};

/** Roasts of a recipe's groups, oldest first. */
export async function listGroupRoasts(
  db: DbOrTransaction,
  workspace: string,
  recipeId: number,
): Promise<readonly GroupRoast[]> {
  const rows = await db
    .selectFrom('roast')
    .select(['roast_group', 'green_mg', 'roasted_mg', 'created_at'])
    .where('workspace', '=', workspace)
    .where('recipe_id', '=', recipeId)
    .where('roast_group', 'is not', null)
    .orderBy('roasted_on')
    .orderBy('id')
    .execute();
  return rows.map((row) => ({
    group: row.roast_group ?? '',
    greenMg: row.green_mg,
    roastedMg: row.roasted_mg,
    recordedAt: new Date(row.created_at),
  }));
}
