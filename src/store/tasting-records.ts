import { z } from 'zod';
import type { Db } from './db.js';
import { updateTasting } from './tastings.js';

/*
 * What a tasting's history keeps beside its changes of state: who decided, cancelled, printed or exported it,
 * what it lost on the shelf, and its digest as posted.
 */

type HistoryOf = { readonly tastingId?: number; readonly workspace?: string; readonly id?: number };

/** Entries of one kind with `detail` as the schema reads it, the oldest first. */
async function listEntries<Detail>(db: Db, change: string, of: HistoryOf, detail: z.ZodType<Detail>) {
  const { tastingId, workspace, id } = of;
  let query = db.selectFrom('tasting_change').selectAll().where('change', '=', change);
  if (tastingId !== undefined) query = query.where('tasting_id', '=', tastingId);
  if (workspace !== undefined) query = query.where('workspace', '=', workspace);
  if (id !== undefined) query = query.where('id', '=', id);
  const rows = await query.orderBy('id').execute();
  return rows.map((row) => ({
    id: row.id,
    tastingId: row.tasting_id,
    who: row.who,
    at: new Date(row.at),
    detail: detail.parse(JSON.parse(row.detail_json)),
  }));
}

/** Who cancelled a tasting, or null. */
export async function cancelledBy(db: Db, tastingId: number): Promise<string | null> {
  return (await listEntries(db, 'cancelled', { tastingId }, z.unknown())).at(-1)?.who ?? null;
}

const DecidedDetail = z.looseObject({ remarks: z.string().nullable().catch(null).default(null) });

/** The word of their own that the host added when deciding a tasting, or null. */
export async function decidedRemarks(db: Db, tastingId: number): Promise<string | null> {
  const decided = await listEntries(db, 'decided', { tastingId }, DecidedDetail);
  return decided.at(-1)?.detail.remarks ?? null;
}

const ExportDetail = z.object({ to: z.enum(['host', 'thread']) });

/** An export that somebody asked for: of which tasting, and whether it is for the host alone. */
export type ExportAsked = z.output<typeof ExportDetail> & { readonly id: number; readonly tastingId: number };

/** Remembers that an export was asked for; returns its id. Call inside a transaction. */
export async function recordExport(
  db: Db,
  tasting: { readonly id: number; readonly workspace: string },
  to: ExportAsked['to'],
  by: { readonly who: string; readonly at: Date },
): Promise<number> {
  return updateTasting(db, tasting, {}, { ...by, change: 'exported', detail: { to } });
}

/** The export with this id inside its own workspace, or null. */
export async function findExport(db: Db, workspace: string, id: number): Promise<ExportAsked | null> {
  const [asked] = await listEntries(db, 'exported', { workspace, id }, ExportDetail);
  return asked ? { id, tastingId: asked.tastingId, to: asked.detail.to } : null;
}

const PrintDetail = z.object({ hash: z.string(), to: z.enum(['host', 'thread']), content: z.unknown() });

/** A table sheet as somebody asked for it to be printed; `content` is what it is drawn from. */
export type Print = z.output<typeof PrintDetail> & { readonly id: number };

/** Remembers what was printed of a tasting, for whom and when. */
export async function recordPrint(
  db: Db,
  tasting: { readonly id: number; readonly workspace: string },
  print: Omit<Print, 'id'>,
  by: { readonly who: string; readonly at: Date },
): Promise<void> {
  await updateTasting(db, tasting, {}, { ...by, change: 'printed', detail: print });
}

/** The latest print of a tasting, of this content when its hash is given; null when there is none. */
export async function latestPrint(
  db: Db,
  tastingId: number,
  hash: string | null = null,
): Promise<Print | null> {
  const prints = await listEntries(db, 'printed', { tastingId }, PrintDetail);
  const latest = prints.filter(({ detail }) => hash === null || detail.hash === hash).at(-1);
  return latest ? { id: latest.id, ...latest.detail } : null;
}

/** The word under which a tasting's history keeps that it lost grams of the shelf to others. */
export const SHELF_LOST = 'shelf lost';

const LostDetail = z.object({
  coffeeId: z.number().int(),
  mg: z.number().int(),
  to: z.array(z.number().int()),
});
/** Milligrams of a coffee that other tables (`to`), booked before, hold on the shelf while this one goes short. */
export type Lost = z.output<typeof LostDetail> & { readonly id: number; readonly at: Date };

/** What a tasting lost to others on the shelf, as its history tells it, the oldest first. */
export async function listLost(db: Db, workspace: string, tastingId: number): Promise<readonly Lost[]> {
  const entries = await listEntries(db, SHELF_LOST, { workspace, tastingId }, LostDetail);
  return entries.map(({ id, at, detail }) => ({ id, at, ...detail }));
}

const StoredMessage = z.object({
  text: z.string(),
  blocks: z.array(z.looseObject({ type: z.string() })),
  picture: z.object({ drawing: z.unknown(), altText: z.string(), title: z.string() }).optional(),
});
/** A digest as it was posted: text, blocks and what its picture is drawn from. */
export type StoredMessage = z.output<typeof StoredMessage>;

/** Stores the digest as posted, in place of an earlier one of the same tasting. */
export async function saveDigest(
  db: Db,
  digest: {
    readonly workspace: string;
    readonly tastingId: number;
    readonly message: unknown;
    readonly at: Date;
    readonly by: string;
  },
): Promise<void> {
  const values = {
    message_json: JSON.stringify(digest.message),
    posted_at: digest.at.toISOString(),
    posted_by: digest.by,
  };
  await db
    .insertInto('digest')
    .values({ tasting_id: digest.tastingId, workspace: digest.workspace, ...values })
    .onConflict((conflict) => conflict.column('tasting_id').doUpdateSet(values))
    .execute();
}

/** The digest of a tasting as posted, or null before it is. */
export async function findDigest(db: Db, tastingId: number): Promise<StoredMessage | null> {
  const row = await db
    .selectFrom('digest')
    .select('message_json')
    .where('tasting_id', '=', tastingId)
    .executeTakeFirst();
  return row ? StoredMessage.parse(JSON.parse(row.message_json)) : null;
}
