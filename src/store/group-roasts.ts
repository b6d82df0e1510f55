import type { DbOrTransaction } from './db.js';

/** One roast of a roast group, and when it was recorded. Milligrams. */
export type GroupRoast = {
  readonly id: number;
  readonly group: string;
  readonly greenMg: number;
  readonly roastedMg: number;
  /** Day in the house's time zone, 'YYYY-MM-DD'. */
  readonly roastedOn: string;
  readonly drum: string | null;
  readonly confirmed: boolean;
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
    .selectAll()
    .where('workspace', '=', workspace)
    .where('recipe_id', '=', recipeId)
    .where('roast_group', 'is not', null)
    .where('struck_at', 'is', null)
    .orderBy('roasted_on')
    .orderBy('id')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    group: row.roast_group ?? '',
    greenMg: row.green_mg,
    roastedMg: row.roasted_mg,
    roastedOn: row.roasted_on,
    drum: row.drum,
    confirmed: row.confirmed === 1,
    recordedAt: new Date(row.created_at),
  }));
}
