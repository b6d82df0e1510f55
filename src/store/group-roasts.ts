import type { DbOrTransaction } from './db.js';

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
