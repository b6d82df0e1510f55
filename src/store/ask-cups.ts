import { z } from 'zod';
import type { DbOrTransaction } from './db.js';

const Parts = z.array(z.object({ coffee: z.number().int(), parts: z.number().int().positive() }));

/** Takes cups off a table; they stay in its history. */
export async function dropCups(
  db: DbOrTransaction,
  workspace: string,
  cupIds: readonly number[],
  at: Date,
): Promise<void> {
  if (cupIds.length === 0) return;
  await db
    .updateTable('cup')
    .set({ dropped_at: at.toISOString() })
    .where('workspace', '=', workspace)
    .where('id', 'in', [...cupIds])
    .where('dropped_at', 'is', null)
    .execute();
}

/** Puts another coffee in the place of one, in every cup of a table that stands. */
export async function swapCoffee(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
  from: number,
  to: number,
): Promise<void> {
  const rows = await db
    .selectFrom('cup')
    .select(['id', 'coffee_id', 'parts_json'])
    .where('workspace', '=', workspace)
    .where('tasting_id', '=', tastingId)
    .where('dropped_at', 'is', null)
    .execute();
  for (const row of rows) {
    if (row.coffee_id !== null) {
      if (row.coffee_id === from)
        await db.updateTable('cup').set({ coffee_id: to }).where('id', '=', row.id).execute();
      continue;
    }
    const parts = Parts.parse(JSON.parse(row.parts_json ?? '[]'));
    if (!parts.some((part) => part.coffee === from)) continue;
    const swapped = parts.map((part) => (part.coffee === from ? { ...part, coffee: to } : part));
    await db
      .updateTable('cup')
      .set({ parts_json: JSON.stringify(swapped) })
      .where('id', '=', row.id)
      .execute();
  }
}
