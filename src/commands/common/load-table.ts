import type { TableSetting } from '../../domain/record/table-setting.js';
import type { Tasting } from '../../domain/record/tasting.js';
import { KindRefusal } from '../../runtime/errors.js';
import { coffeesById } from '../../store/coffees.js';
import { listCups } from '../../store/cups.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findRecipeVersion } from '../../store/recipes.js';
import { findTasting } from '../../store/tastings.js';
import type { Who } from './intake.js';
import { requireAtTable } from './standing.js';

/** The table of a tasting: its recipe as it was booked, its cups and their coffees. */
export async function loadTable(
  db: DbOrTransaction,
  workspace: string,
  tasting: Tasting,
): Promise<TableSetting> {
  const recipe = await findRecipeVersion(db, workspace, tasting.recipeVersionId);
  if (!recipe) throw new Error(`tasting ${tasting.id} has no recipe version ${tasting.recipeVersionId}`);
  const cups = await listCups(db, tasting.id);
  const ids = new Set([
    ...recipe.parts.map((part) => part.coffeeId),
    ...cups.flatMap((cup) => cup.parts.map((part) => part.coffeeId)),
  ]);
  return { tasting, recipe, cups, coffees: await coffeesById(db, workspace, [...ids]) };
}

/** The table with this id in the person's own workspace. */
export async function requireTable(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
): Promise<TableSetting> {
  const tasting = await findTasting(db, workspace, tastingId);
  if (!tasting)
    throw new KindRefusal(
      'not found',
      'I cannot find that tasting any more.',
      'Type `/spoon` to see what is next.',
    );
  return loadTable(db, workspace, tasting);
}

/** The table with this id, for somebody who asks in this channel: in its own, or as one of its people. */
export async function requireTableAt(
  db: DbOrTransaction,
  who: Who,
  channel: string | null,
  tastingId: number,
  action: 'look at table' | 'taste' = 'look at table',
): Promise<TableSetting> {
  const setting = await requireTable(db, who.workspace, tastingId);
  await requireAtTable(db, who, channel, setting.tasting, action);
  return setting;
}
