import { type Selectable, sql, type Updateable } from 'kysely';
import { z } from 'zod';
import { markChanged } from './changed.js';
import type { Db } from './db.js';
import type { Tables } from './schema.js';

/** A notice's row: `channel` and `ts` say where it stands in Slack, once it does. */
export type NoticeRow = Readonly<Selectable<Tables['notice']>>;

/** A notice as it should be: `wanted_json` is the whole of it, `wanted_hash` its identity. */
export type WantedNotice = Pick<NoticeRow, 'workspace' | 'key' | 'subject' | 'kind' | 'lane' | 'place_json'> &
  Readonly<Record<'wanted_json' | 'wanted_hash', string>>;

/**
 * Stores what a notice should be. What can be shown only once (a private message, a file) stays as it was
 * shown; a stopped notice stays stopped until it is revived. Call it inside a transaction.
 */
export async function wantNotice(db: Db, notice: WantedNotice): Promise<void> {
  const { workspace, key, kind, ...wanted } = notice;
  const known = await findNotice(db, workspace, key);
  if (!known) {
    const nothingShown = { shown_hash: null, shown_json: null, channel: null, ts: null, posting_since: null };
    await db
      .insertInto('notice')
      .values({ workspace, key, kind, ...wanted, ...nothingShown, ...TRY_ANEW })
      .execute();
    return;
  }
  if (known.wanted_hash === wanted.wanted_hash) return;
  if (known.shown_hash !== null && (known.kind === 'private' || known.kind === 'file')) return;
  await stepNotice(db, { workspace, key }, { ...wanted, ...shownForCertain(known) });
}

const TRY_ANEW = { state: 'kept', attempts: 0, next_try_at: null, error: null };

/** What a reaction's row remembers: the name that stands, and those that may stand beside it. */
export const Reaction = z.object({
  name: z.string().nullable().default(null),
  maybe: z.array(z.string().nullable()).default([]),
});

/**
 * Wanted anew before it was shown, a notice may have been shown meanwhile without our hearing of it: then it is
 * not certain what stands in Slack, even when what was shown before is wanted again. Of reactions, which may
 * stand side by side, every one is remembered that may have been made.
 */
function shownForCertain(known: NoticeRow): Pick<NoticeRow, 'shown_hash' | 'shown_json'> {
  const { shown_hash, shown_json } = known;
  if (shown_hash === known.wanted_hash) return { shown_hash, shown_json };
  if (known.kind !== 'reaction') return { shown_hash: null, shown_json };
  const { name, maybe } = Reaction.parse(JSON.parse(shown_json ?? '{}'));
  const wanted = Reaction.parse(JSON.parse(known.wanted_json ?? '{}'));
  return { shown_hash: null, shown_json: JSON.stringify({ name, maybe: [...maybe, wanted.name] }) };
}

/** A thread can only be written in when the notice above it stands; what is unwanted need not wait for that. */
const HAS_ITS_PLACE = sql<boolean>`(
  coalesce(place_json ->> 'kind', '') <> 'thread'
  or (kind = 'message' and wanted_json ->> 'message' is null)
  or exists (
    select 1 from notice as above
    where above.workspace = notice.workspace
      and above.key = notice.place_json ->> 'under' and above.ts is not null
  )
)`;

/** What the keeper needs to know of a notice to see whether it may go. */
export type Differing = Pick<NoticeRow, 'workspace' | 'key' | 'kind' | 'lane' | 'ts' | 'next_try_at'>;

/** As literals: the index of what is still to do is found by them. */
const DIFFERS = sql<boolean>`wanted_hash is not shown_hash and state <> 'stopped'`;
const STOPPED = sql.lit('stopped');

/** Notices that do not stand as they should and could, in the order in which they were first wanted. */
export async function listDiffering(db: Db, limit: number): Promise<readonly Differing[]> {
  return db
    .selectFrom('notice')
    .select(['workspace', 'key', 'kind', 'lane', 'ts', 'next_try_at'])
    .where(DIFFERS)
    .where(HAS_ITS_PLACE)
    .orderBy('id')
    .limit(limit)
    .execute();
}

/** The notice with this key, shown or not, or null. */
export async function findNotice(db: Db, workspace: string, key: string): Promise<NoticeRow | null> {
  const row = await db
    .selectFrom('notice')
    .selectAll()
    .where((eb) => eb.and({ workspace, key }))
    .executeTakeFirst();
  return row ?? null;
}

/** Where the bot's messages in channels stand that were posted since a moment, the oldest first. */
export async function listStandingMessages(
  db: Db,
  workspace: string,
  since: Date,
): Promise<readonly { readonly channel: string; readonly ts: string }[]> {
  const rows = await db
    .selectFrom('notice')
    .select(['channel', 'ts'])
    .where((eb) => eb.and({ workspace, kind: sql.lit('message') }))
    .where('place_json', 'like', '%"kind":"channel"%')
    .where('ts', '>', (since.getTime() / 1000).toFixed(6))
    .orderBy('ts')
    .execute();
  return rows.flatMap(({ channel, ts }) => (channel && ts ? [{ channel, ts }] : []));
}

/** What a notice's row may change to after a step towards being shown. */
export type NoticeStep = Updateable<Omit<Tables['notice'], 'id' | 'workspace' | 'key' | 'kind'>>;

/** Changes a notice's row after a step towards being shown. */
export async function stepNotice(
  db: Db,
  { workspace, key }: { readonly workspace: string; readonly key: string },
  step: NoticeStep,
): Promise<void> {
  await db
    .updateTable('notice')
    .set(step)
    .where((eb) => eb.and({ workspace, key }))
    .execute();
}

/** Lets everything that was stopped (about one subject, or at all) try again. */
export async function reviveStopped(db: Db, subject: string | null, at: Date): Promise<void> {
  const revived = await db
    .updateTable('notice')
    .set(TRY_ANEW)
    .where('state', '=', STOPPED)
    .$if(subject !== null, (query) => query.where('subject', '=', subject ?? ''))
    .returning(['workspace', 'subject'])
    .execute();
  for (const notice of revived) await markChanged(db, notice.workspace, notice.subject, at);
}

/** Lets what was stopped in a channel try again, as when the bot is invited back. */
export async function reviveNotices(db: Db, workspace: string, channel: string): Promise<void> {
  await db
    .updateTable('notice')
    .set(TRY_ANEW)
    .where((eb) => eb.and({ workspace, channel, state: STOPPED }))
    .execute();
}

/** How many notices differ from what should stand. */
export async function countDiffering(db: Db): Promise<number> {
  const notices = db.selectFrom('notice').select((eb) => eb.fn.countAll<number>().as('count'));
  return (await notices.where(DIFFERS).where(HAS_ITS_PLACE).executeTakeFirstOrThrow()).count;
}

type Stopped = Pick<NoticeRow, 'key' | 'channel' | 'error'>;

/** Notices of one subject that were given up, and whether its host has ever been told of one. */
export async function stoppedOf(
  db: Db,
  workspace: string,
  subject: string,
  toldKey: string,
): Promise<{ readonly stopped: readonly Stopped[]; readonly told: boolean }> {
  const rows = await db
    .selectFrom('notice')
    .select(['key', 'channel', 'error', 'state'])
    .where((eb) => eb.and({ workspace, subject }))
    .where((eb) => eb.or([eb('state', '=', 'stopped'), eb('key', '=', toldKey)]))
    .execute();
  return {
    stopped: rows.filter((row) => row.state === 'stopped' && row.key !== toldKey),
    told: rows.some((row) => row.key === toldKey),
  };
}

/** Notices that were given up. */
export async function listStopped(db: Db): Promise<readonly Stopped[]> {
  return db
    .selectFrom('notice')
    .select(['key', 'channel', 'error'])
    .where('state', '=', STOPPED)
    .orderBy('key')
    .execute();
}

/** Slack's clock and ours may differ by this much. */
const CLOCKS_DIFFER_MS = 60_000;

/**
 * Is a table's or a cup's card being posted in this channel, so that the thread of a message written at
 * `threadTs` may turn out to be its thread?
 */
export async function isCardInFlight(
  db: Db,
  workspace: string,
  channel: string,
  threadTs: string,
): Promise<boolean> {
  const latest = new Date(Number.parseFloat(threadTs) * 1000 + CLOCKS_DIFFER_MS);
  const row = await db
    .selectFrom('notice')
    .select('key')
    .where((eb) => eb.and({ workspace, state: 'posting', channel, ts: null }))
    .where('posting_since', '<=', Number.isNaN(latest.getTime()) ? '' : latest.toISOString())
    .where((eb) => eb.or([eb('key', 'like', 'table:%'), eb('key', 'like', 'cup:%')]))
    .executeTakeFirst();
  return row !== undefined;
}

/** The uploaded file for a drawing with this content hash, if there is one. */
export async function findPicture(db: Db, workspace: string, hash: string): Promise<string | null> {
  const row = await db
    .selectFrom('picture')
    .select('file_id')
    .where((eb) => eb.and({ workspace, hash }))
    .executeTakeFirst();
  return row?.file_id ?? null;
}

/** Remembers which file shows a drawing, so that it is uploaded once. */
export async function savePicture(
  db: Db,
  workspace: string,
  hash: string,
  fileId: string,
  at: Date,
): Promise<void> {
  await db
    .insertInto('picture')
    .values({ workspace, hash, file_id: fileId, created_at: at.toISOString() })
    .onConflict((conflict) => conflict.columns(['workspace', 'hash']).doNothing())
    .execute();
}
