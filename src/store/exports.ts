import { z } from 'zod';
import type { DbOrTransaction } from './db.js';
import { updateTasting } from './tastings.js';

const Detail = z.object({ to: z.enum(['host', 'thread']) });

/** An export that somebody asked for: of which tasting, and whether it is for the host alone. */
export type ExportAsked = z.output<typeof Detail> & { readonly id: number; readonly tastingId: number };

/** Keeps that an export was asked for; returns its id. Call inside a transaction. */
export async function recordExport(
  db: DbOrTransaction,
  tasting: { readonly id: number; readonly workspace: string },
  to: ExportAsked['to'],
  by: { readonly who: string; readonly at: Date },
): Promise<number> {
  await updateTasting(db, tasting, {}, { ...by, change: 'exported', detail: { to } });
  const { id } = await db
    .selectFrom('tasting_change')
    .select((eb) => eb.fn.max('id').as('id'))
    .where('tasting_id', '=', tasting.id)
    .where('change', '=', 'exported')
    .executeTakeFirstOrThrow();
  return Number(id);
}

/** The export with this id inside its own workspace, or null. */
export async function findExport(
  db: DbOrTransaction,
  workspace: string,
  id: number,
): Promise<ExportAsked | null> {
  const row = await db
    .selectFrom('tasting_change')
    .select(['tasting_id', 'detail_json'])
    .where('workspace', '=', workspace)
    .where('id', '=', id)
    .where('change', '=', 'exported')
    .executeTakeFirst();
  return row ? { id, tastingId: row.tasting_id, ...Detail.parse(JSON.parse(row.detail_json)) } : null;
}
