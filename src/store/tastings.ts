import { type Insertable, sql } from 'kysely';
import { LIVE_STATES, type Tasting } from '../domain/record/tasting.js';
import type { Db } from './db.js';
import type { Tables } from './schema.js';

/** The tasting with this number (T4 → 4), or null. */
export async function findTastingByNumber(
  db: Db,
  workspace: string,
  number: number,
): Promise<Tasting | null> {
  const [tasting] = await load(db, inWorkspace(db, workspace).where('number', '=', number));
  return tasting ?? null;
}

/** The tasting with this id, only inside its own workspace, or null. */
export async function findTasting(db: Db, workspace: string, id: number): Promise<Tasting | null> {
  const [tasting] = await load(db, inWorkspace(db, workspace).where('id', '=', id));
  return tasting ?? null;
}

/** Tastings in any of these states, soonest first. */
export async function listTastings(
  db: Db,
  workspace: string,
  states: readonly Tasting['state'][],
): Promise<readonly Tasting[]> {
  const inState = inWorkspace(db, workspace).where('state', 'in', states);
  return load(db, inState.orderBy('starts_at').orderBy('id'));
}

/** Channels of tastings that are still to come or going on, in every workspace of this database. */
export async function listChannels(db: Db): Promise<readonly string[]> {
  const rows = await db
    .selectFrom('tasting')
    .select('channel')
    .distinct()
    .where('state', 'in', LIVE_STATES)
    .orderBy('channel')
    .execute();
  return rows.map(({ channel }) => channel);
}

/** The number the workspace's next tasting gets. Call inside the transaction that books it. */
export async function nextTastingNumber(db: Db, workspace: string): Promise<number> {
  const row = await db
    .selectFrom('tasting')
    .select((eb) => eb.fn.max('number').as('last'))
    .where('workspace', '=', workspace)
    .executeTakeFirst();
  return (row?.last ?? 0) + 1;
}

/** Adds a tasting with its invited people; returns its id. */
export async function insertTasting(
  db: Db,
  row: Insertable<Tables['tasting']>,
  invited: readonly string[],
): Promise<number> {
  const { id } = await db.insertInto('tasting').values(row).returning('id').executeTakeFirstOrThrow();
  for (const person of new Set(invited)) {
    await db.insertInto('invited').values({ tasting_id: id, person }).execute();
  }
  return id;
}

/** Changes columns of one tasting and adds to its history who did it and when; returns the entry's id. */
export async function updateTasting(
  db: Db,
  tasting: Pick<Tasting, 'id'> & { readonly workspace: string },
  values: Partial<Insertable<Tables['tasting']>>,
  change: { readonly who: string; readonly at: Date; readonly change: string; readonly detail?: unknown },
): Promise<number> {
  if (Object.keys(values).length > 0) {
    await db.updateTable('tasting').set(values).where('id', '=', tasting.id).execute();
  }
  const { id } = await db
    .insertInto('tasting_change')
    .values({
      workspace: tasting.workspace,
      tasting_id: tasting.id,
      at: change.at.toISOString(),
      who: change.who,
      change: change.change,
      detail_json: JSON.stringify(change.detail ?? {}),
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** Is this one of the table's own people: its host, invited to it, somebody who wrote there or roasts for it? */
export async function isOfTable(
  db: Db,
  tasting: Pick<Tasting, 'id' | 'host' | 'invited'>,
  person: string,
): Promise<boolean> {
  if (tasting.host === person || tasting.invited.includes(person)) return true;
  const written = await db
    .selectFrom('note')
    .select('id')
    .where((eb) => eb.and({ tasting_id: tasting.id, person }))
    .limit(1)
    .executeTakeFirst();
  if (written) return true;
  const asked = await db
    .selectFrom('ask_for')
    .innerJoin('ask', 'ask.id', 'ask_for.ask_id')
    .select('ask.id')
    .where((eb) => eb.and({ 'ask_for.tasting_id': tasting.id, 'ask.roaster': person }))
    .limit(1)
    .executeTakeFirst();
  return asked !== undefined;
}

function inWorkspace(db: Db, workspace: string) {
  return db
    .selectFrom('tasting')
    .select(['id', 'number', 'recipe_version_id as recipeVersionId', 'channel', 'host', 'state', 'format'])
    .select(['tables', 'seed', 'brief', 'batch_mg as batchMg', 'winner_cup_id as winnerCupId'])
    .select(['decided_rule as decidedRule', 'signed_off_by as signedOffBy', 'blind', 'tally_shown'])
    .select(['starts_at', 'opened_at', 'closed_at', 'decided_at'])
    .where('workspace', '=', workspace);
}

async function load(db: Db, query: ReturnType<typeof inWorkspace>): Promise<readonly Tasting[]> {
  const rows = await query.execute();
  if (rows.length === 0) return [];
  const ids = rows.map((row) => row.id);
  const invited = await db
    .selectFrom('invited')
    .selectAll()
    .where('tasting_id', 'in', ids)
    // In the order in which they were invited.
    .orderBy(sql`rowid`)
    .execute();
  return rows.map(({ starts_at, blind, opened_at, closed_at, decided_at, tally_shown, ...row }) => ({
    ...row,
    startsAt: new Date(starts_at),
    blind: blind === 1,
    openedAt: instant(opened_at),
    closedAt: instant(closed_at),
    decidedAt: instant(decided_at),
    tallyShown: tally_shown === 1,
    invited: invited.filter((entry) => entry.tasting_id === row.id).map(({ person }) => person),
  }));
}

function instant(text: string | null): Date | null {
  return text === null ? null : new Date(text);
}
