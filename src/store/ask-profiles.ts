import type { DbOrTransaction } from './db.js';

/**
 * How many tasters named each attribute for each coffee tasted alone, over closed tables: coffee id →
 * attribute → tasters, once per taster and table. Open tables are left out: nothing of them is told early.
 */
export async function coffeeProfiles(
  db: DbOrTransaction,
  workspace: string,
): Promise<ReadonlyMap<number, ReadonlyMap<string, number>>> {
  const rows = await db
    .selectFrom('mention')
    .innerJoin('note', 'note.id', 'mention.note_id')
    .innerJoin('cup', 'cup.id', 'mention.cup_id')
    .innerJoin('tasting', 'tasting.id', 'note.tasting_id')
    .select(['cup.coffee_id', 'mention.attribute', 'note.person', 'tasting.id as tasting'])
    .distinct()
    .where('note.workspace', '=', workspace)
    .where('tasting.state', 'in', ['closed', 'decided'])
    .where('cup.kind', '=', 'component')
    .where('mention.polarity', '=', 'present')
    .where('note.deleted_at', 'is', null)
    .where('note.late', '=', 0)
    .execute();
  const profiles = new Map<number, Map<string, number>>();
  for (const row of rows) {
    if (row.coffee_id === null) continue;
    const profile = profiles.get(row.coffee_id) ?? new Map<string, number>();
    profile.set(row.attribute, (profile.get(row.attribute) ?? 0) + 1);
    profiles.set(row.coffee_id, profile);
  }
  return profiles;
}
