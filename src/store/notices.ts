import { sql } from 'kysely';
import { markChanged } from './changed.js';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';
import type { NoticeTable } from './schema.js';

/** A notice as it should be: `wantedJson` is the whole of it, `hash` its identity. */
export type WantedNotice = {
  readonly workspace: string;
  readonly key: string;
  readonly subject: string;
  readonly kind: string;
  /** What has to stay in order with it. */
  readonly lane: string;
  readonly placeJson: string;
  readonly wantedJson: string;
  readonly hash: string;
};

/** A notice's row: `channel` and `ts` say where it stands in Slack, once it does. */
export type NoticeRow = Readonly<NoticeTable>;

/**
 * Wanted anew before it was shown, a notice may have been shown meanwhile without our hearing of it: then it is
 * not certain what stands in Slack, even when what was shown before is wanted again.
 */
const SHOWN_FOR_CERTAIN = sql<string | null>`case when shown_hash is wanted_hash then shown_hash end`;
/** Of reactions, which may stand side by side, every one is remembered that may have been made. */
const SHOWN_OR_MAYBE = sql<string | null>`case
  when kind <> 'reaction' or shown_hash is wanted_hash then shown_json
  else json_object(
    'name', json_extract(shown_json, '$.name'),
    'maybe', json(json_insert(
      coalesce(json_extract(shown_json, '$.maybe'), '[]'), '$[#]', json_extract(wanted_json, '$.name'))))
  end`;

const want = prepared<WantedNotice>()((db, given) =>
  db
    .insertInto('notice')
    .values({
      workspace: given('workspace'),
      key: given('key'),
      subject: given('subject'),
      kind: given('kind'),
      lane: given('lane'),
      place_json: given('placeJson'),
      wanted_json: given('wantedJson'),
      wanted_hash: given('hash'),
      shown_hash: null,
      shown_json: null,
      channel: null,
      ts: null,
      state: 'kept',
      posting_since: null,
      attempts: 0,
      next_try_at: null,
      error: null,
    })
    .onConflict((conflict) =>
      conflict
        .columns(['workspace', 'key'])
        .doUpdateSet({
          subject: given('subject'),
          lane: given('lane'),
          place_json: given('placeJson'),
          wanted_json: given('wantedJson'),
          wanted_hash: given('hash'),
          shown_hash: SHOWN_FOR_CERTAIN,
          shown_json: SHOWN_OR_MAYBE,
        })
        .where('notice.wanted_hash', 'is not', given('hash'))
        .where((eb) =>
          eb.or([eb('notice.shown_hash', 'is', null), eb('notice.kind', 'not in', ['private', 'file'])]),
        ),
    ),
);

/**
 * Stores what a notice should be. What can be shown only once (a private message, a file) stays as it was
 * shown; a stopped notice stays stopped until it is revived.
 */
export async function wantNotice(db: DbOrTransaction, notice: WantedNotice): Promise<void> {
  await want(db, notice);
}

/** A thread can only be written in when the notice above it stands; what is unwanted need not wait for that. */
const HAS_ITS_PLACE = sql<boolean>`(
  place_json not like '%"kind":"thread"%'
  or json_type(wanted_json, '$.message') = 'null'
  or exists (
    select 1 from notice as above
    where above.workspace = notice.workspace
      and above.key = json_extract(notice.place_json, '$.under') and above.ts is not null
  )
)`;

/** What the keeper needs to know of a notice to see whether it may go. */
export type Differing = Pick<NoticeRow, 'workspace' | 'key' | 'kind' | 'lane' | 'ts' | 'next_try_at'>;

const differing = prepared<{ readonly limit: number }>()((db, given) =>
  db
    .selectFrom('notice')
    .select(['workspace', 'key', 'kind', 'lane', 'ts', 'next_try_at'])
    .where(sql<boolean>`wanted_hash is not shown_hash and state <> 'stopped'`)
    .where(HAS_ITS_PLACE)
    .orderBy(sql`rowid`)
    .limit(given('limit')),
);

/** Notices that do not stand as they should and could, in the order in which they were first wanted. */
export async function listDiffering(db: DbOrTransaction, limit: number): Promise<readonly Differing[]> {
  return differing(db, { limit });
}

const find = prepared<Pick<NoticeRow, 'workspace' | 'key'>>()((db, given) =>
  db
    .selectFrom('notice')
    .selectAll()
    .where('workspace', '=', given('workspace'))
    .where('key', '=', given('key')),
);

export async function findNotice(
  db: DbOrTransaction,
  workspace: string,
  key: string,
): Promise<NoticeRow | null> {
  const [row] = await find(db, { workspace, key });
  return row ?? null;
}

/** Where the bot's messages in channels stand that were posted since a moment, the oldest first. */
export async function listStandingMessages(
  db: DbOrTransaction,
  workspace: string,
  since: Date,
): Promise<readonly { readonly channel: string; readonly ts: string }[]> {
  const rows = await db
    .selectFrom('notice')
    .select(['channel', 'ts'])
    .where('workspace', '=', workspace)
    .where('kind', '=', sql.lit('message'))
    .where('place_json', 'like', '%"kind":"channel"%')
    .where('ts', '>', (since.getTime() / 1000).toFixed(6))
    .orderBy('ts')
    .execute();
  return rows.flatMap(({ channel, ts }) => (channel && ts ? [{ channel, ts }] : []));
}

/** What a notice's row may change to after a step towards being shown. */
export type NoticeStep = Partial<
  Pick<
    NoticeTable,
    | 'shown_hash'
    | 'shown_json'
    | 'channel'
    | 'ts'
    | 'state'
    | 'posting_since'
    | 'attempts'
    | 'next_try_at'
    | 'error'
  >
>;

export async function stepNotice(
  db: DbOrTransaction,
  { workspace, key }: { readonly workspace: string; readonly key: string },
  step: NoticeStep,
): Promise<void> {
  await db
    .updateTable('notice')
    .set(step)
    .where('workspace', '=', workspace)
    .where('key', '=', key)
    .execute();
}

/** Lets everything that was stopped (about one subject, or at all) try again. */
export async function reviveStopped(db: DbOrTransaction, subject: string | null, at: Date): Promise<void> {
  const revived = await db
    .updateTable('notice')
    .set({ state: 'kept', attempts: 0, next_try_at: null, error: null })
    .where('state', '=', sql.lit('stopped'))
    .$if(subject !== null, (query) => query.where('subject', '=', subject ?? ''))
    .returning(['workspace', 'subject'])
    .execute();
  for (const notice of revived) await markChanged(db, notice.workspace, notice.subject, at);
}

/** Lets what was stopped in a channel try again, as when the bot is invited back. */
export async function reviveNotices(
  db: DbOrTransaction,
  workspace: string,
  channel: string,
): Promise<number> {
  const result = await db
    .updateTable('notice')
    .set({ state: 'kept', attempts: 0, next_try_at: null, error: null })
    .where('workspace', '=', workspace)
    .where('channel', '=', channel)
    .where('state', '=', sql.lit('stopped'))
    .executeTakeFirst();
  return Number(result.numUpdatedRows);
}

/** How many notices differ from what should stand, and how many were given up. */
export async function countNotices(
  db: DbOrTransaction,
): Promise<{ readonly differing: number; readonly stopped: number }> {
  const differing = await db
    .selectFrom('notice')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where(sql<boolean>`wanted_hash is not shown_hash and state <> 'stopped'`)
    .where(HAS_ITS_PLACE)
    .executeTakeFirstOrThrow();
  const stopped = await db
    .selectFrom('notice')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('state', '=', sql.lit('stopped'))
    .executeTakeFirstOrThrow();
  return { differing: Number(differing.count), stopped: Number(stopped.count) };
}

export type Stopped = {
  readonly key: string;
  readonly channel: string | null;
  readonly error: string | null;
};

/** Notices of one subject that were given up, and whether its host has ever been told of one. */
export async function stoppedOf(
  db: DbOrTransaction,
  workspace: string,
  subject: string,
  toldKey: string,
): Promise<{ readonly stopped: readonly Stopped[]; readonly told: boolean }> {
  const rows = await db
    .selectFrom('notice')
    .select(['key', 'channel', 'error', 'state'])
    .where('workspace', '=', workspace)
    .where('subject', '=', subject)
    .where((eb) => eb.or([eb('state', '=', 'stopped'), eb('key', '=', toldKey)]))
    .execute();
  return {
    stopped: rows.filter((row) => row.state === 'stopped' && row.key !== toldKey),
    told: rows.some((row) => row.key === toldKey),
  };
}

/** Notices that were given up. */
export async function listStopped(db: DbOrTransaction): Promise<readonly Stopped[]> {
  return db
    .selectFrom('notice')
    .select(['key', 'channel', 'error'])
    .where('state', '=', sql.lit('stopped'))
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
  db: DbOrTransaction,
  workspace: string,
  channel: string,
  threadTs: string,
): Promise<boolean> {
  const latest = new Date(Number.parseFloat(threadTs) * 1000 + CLOCKS_DIFFER_MS);
  const row = await db
    .selectFrom('notice')
    .select('key')
    .where('workspace', '=', workspace)
    .where('state', '=', 'posting')
    .where('channel', '=', channel)
    .where('ts', 'is', null)
    .where('posting_since', '<=', Number.isNaN(latest.getTime()) ? '' : latest.toISOString())
    .where((eb) => eb.or([eb('key', 'like', 'table:%'), eb('key', 'like', 'cup:%')]))
    .executeTakeFirst();
  return row !== undefined;
}
