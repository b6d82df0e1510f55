import type { InferResult } from 'kysely';
import { z } from 'zod';
import { LEVELS, type Level } from '../domain/record/coffee.js';
import type { Db } from './db.js';

const Taken = z.array(z.object({ coffeeId: z.number().int(), mg: z.number().int().nonnegative() }));
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
  /** Name of the drum; null for a roast from before drums were kept. */
  readonly drum: string | null;
  /** Somebody looked at a loss that is not the usual one again, and it is so. */
  readonly confirmed: boolean;
  /** Green that it took from the store, by coffee; nothing where the house does not count it. */
  readonly taken: readonly { readonly coffeeId: number; readonly mg: number }[];
};

/**
 * Records a roast and returns its id.
 *
 * @throws when more came out than went in (a check of the schema)
 */
export async function insertRoast(
  db: Db,
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
      drum: roast.drum,
      confirmed: roast.confirmed ? 1 : 0,
      taken_json: JSON.stringify(roast.taken),
      created_at: roast.at.toISOString(),
      created_by: roast.who,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** Roasts of one coffee alone, oldest first: its own history of losses. */
export async function listRoastsAlone(
  db: Db,
  workspace: string,
  coffeeId: number,
): Promise<readonly Roast[]> {
  const rows = await counted(db, workspace)
    .where((eb) => eb.and({ coffee_id: coffeeId, recipe_id: null }))
    .execute();
  return rows.map(toRoast);
}

/** The roast with this id that still counts, only inside its own workspace, or null. */
export async function findRoast(db: Db, workspace: string, id: number): Promise<Roast | null> {
  const row = await counted(db, workspace).where('id', '=', id).executeTakeFirst();
  return row ? toRoast(row) : null;
}

/** A roast that was an error counts no more; the row stays, so that what rests on it can be explained. */
export async function strikeRoast(db: Db, roastId: number, at: Date): Promise<void> {
  await db.updateTable('roast').set({ struck_at: at.toISOString() }).where('id', '=', roastId).execute();
}

/** One roast of a roast group, and when it was recorded. */
export type GroupRoast = Roast & { readonly group: string; readonly recordedAt: Date };

/** Roasts of a recipe's groups, oldest first. */
export async function listGroupRoasts(
  db: Db,
  workspace: string,
  recipeId: number,
): Promise<readonly GroupRoast[]> {
  const rows = await counted(db, workspace)
    .where('recipe_id', '=', recipeId)
    .where('roast_group', 'is not', null)
    .select('created_at')
    .execute();
  return rows.map(({ created_at, ...row }) => ({
    ...toRoast(row),
    group: row.roastGroup ?? '',
    recordedAt: new Date(created_at),
  }));
}

/** Roasts that were no error, the oldest first. */
function counted(db: Db, workspace: string) {
  return db
    .selectFrom('roast')
    .select(['id', 'coffee_id as coffeeId', 'recipe_id as recipeId', 'roast_group as roastGroup'])
    .select(['green_mg as greenMg', 'roasted_mg as roastedMg', 'roasted_on as roastedOn', 'drum'])
    .select(['level', 'colour', 'remarks', 'confirmed', 'taken_json'])
    .where((eb) => eb.and({ workspace, struck_at: null }))
    .orderBy('roasted_on')
    .orderBy('id');
}

function toRoast({ taken_json, ...row }: InferResult<ReturnType<typeof counted>>[number]): Roast {
  const taken = Taken.parse(JSON.parse(taken_json));
  return { ...row, level: LevelColumn.parse(row.level), confirmed: row.confirmed === 1, taken };
}
