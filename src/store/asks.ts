import type { InferResult, Insertable } from 'kysely';
import { z } from 'zod';
import {
  ASK_STATES,
  type Ask,
  type AskChanged,
  AskDetail,
  type AskState,
  type HistoryEntry,
  type StoredAsk,
} from '../domain/record/ask.js';
import type { Db } from './db.js';
import type { Tables } from './schema.js';

const State = z.enum(ASK_STATES);

/** The subject under which an ask's notices and reminders are kept: "ask:7". */
export function askSubject(id: number): string {
  return `ask:${id}`;
}

/** The ask with this id, only inside its own workspace, or null. */
export async function findAsk(db: Db, workspace: string, id: number): Promise<StoredAsk | null> {
  const row = await inWorkspace(db, workspace).where('id', '=', id).executeTakeFirst();
  return row ? toAsk(db, row) : null;
}

/** The ask that a roast was recorded for, or null. */
export async function findAskOfRoast(db: Db, workspace: string, roastId: number): Promise<StoredAsk | null> {
  const row = await inWorkspace(db, workspace).where('roast_id', '=', roastId).executeTakeFirst();
  return row ? toAsk(db, row) : null;
}

/** Asks in any of these states, the earliest roast day first; of one coffee when it is given. */
export async function listAsks(
  db: Db,
  workspace: string,
  states: readonly AskState[],
  coffeeId?: number,
): Promise<readonly StoredAsk[]> {
  let query = inWorkspace(db, workspace).where('state', 'in', states);
  if (coffeeId !== undefined) query = query.where('coffee_id', '=', coffeeId);
  const rows = await query.orderBy('roast_day').orderBy('id').execute();
  return Promise.all(rows.map((row) => toAsk(db, row)));
}

/** Every ask that one tasting stands behind, in any state, the oldest first. */
export async function listAsksFor(
  db: Db,
  workspace: string,
  tastingId: number,
): Promise<readonly StoredAsk[]> {
  const ids = await listAskIdsFor(db, tastingId);
  if (ids.length === 0) return [];
  const rows = await inWorkspace(db, workspace).where('id', 'in', ids).orderBy('id').execute();
  return Promise.all(rows.map((row) => toAsk(db, row)));
}

/** Ids of the asks a tasting stands behind, in any state. */
export async function listAskIdsFor(db: Db, tastingId: number): Promise<readonly number[]> {
  const rows = await db.selectFrom('ask_for').select('ask_id').where('tasting_id', '=', tastingId).execute();
  return rows.map((row) => row.ask_id);
}

/** The lots that came out of asks: lot id → ask id. They serve the tables of that ask first. */
export async function listLotsOfAsks(db: Db, workspace: string): Promise<ReadonlyMap<number, number>> {
  const rows = await db
    .selectFrom('lot')
    .innerJoin('ask', 'ask.roast_id', 'lot.roast_id')
    .select(['lot.id as lot', 'ask.id as ask'])
    .where((eb) => eb.and({ 'lot.workspace': workspace, 'lot.emptied_at': null }))
    .execute();
  return new Map(rows.map((row) => [row.lot, row.ask]));
}

/** Adds an ask in state `asked` and the first entry of its history; returns its id. */
export async function insertAsk(
  db: Db,
  ask: Omit<Insertable<Tables['ask']>, 'id' | 'state' | 'created_at' | 'created_by'>,
  change: HistoryEntry,
): Promise<number> {
  const { id } = await db
    .insertInto('ask')
    .values({ ...ask, state: 'asked', created_at: change.at.toISOString(), created_by: change.who })
    .returning('id')
    .executeTakeFirstOrThrow();
  await recordAskChange(db, ask.workspace, id, null, 'asked', change);
  return id;
}

/** Changes columns of one ask and adds to its history who did it, when, from which state and to which. */
export async function updateAsk(
  db: Db,
  workspace: string,
  ask: Pick<Ask, 'id' | 'state'>,
  values: Partial<Omit<Insertable<Tables['ask']>, 'id' | 'workspace' | 'state'>> & {
    readonly state?: AskState;
  },
  change: HistoryEntry,
): Promise<void> {
  if (Object.keys(values).length > 0) {
    await db
      .updateTable('ask')
      .set(values)
      .where((eb) => eb.and({ workspace, id: ask.id }))
      .execute();
  }
  await recordAskChange(db, workspace, ask.id, ask.state, values.state ?? ask.state, change);
}

/** Says how many roasted milligrams of an ask are for one tasting; 0 takes the tasting off the ask. */
export async function setWanted(db: Db, askId: number, tastingId: number, mg: number): Promise<void> {
  if (mg <= 0) {
    await db.deleteFrom('ask_for').where('ask_id', '=', askId).where('tasting_id', '=', tastingId).execute();
    return;
  }
  await db
    .insertInto('ask_for')
    .values({ ask_id: askId, tasting_id: tastingId, mg })
    .onConflict((conflict) => conflict.columns(['ask_id', 'tasting_id']).doUpdateSet({ mg }))
    .execute();
}

function inWorkspace(db: Db, workspace: string) {
  return db
    .selectFrom('ask')
    .select([
      'id',
      'workspace',
      'coffee_id as coffeeId',
      'roaster',
      'roasted_mg as roastedMg',
      'state',
      'favour',
    ])
    .select([
      'green_mg as greenMg',
      'loss_bp as lossBp',
      'drum',
      'over_mg as overMg',
      'roast_day as roastDay',
    ])
    .select(['offered_day as offeredDay', 'reason', 'roast_id as roastId', 'created_by as createdBy'])
    .select('created_at')
    .where('workspace', '=', workspace);
}

type AskRow = InferResult<ReturnType<typeof inWorkspace>>[number];

async function toAsk(db: Db, { workspace, created_at, favour, ...row }: AskRow): Promise<StoredAsk> {
  const wanted = await db
    .selectFrom('ask_for')
    .select(['tasting_id as tastingId', 'mg'])
    .where('ask_id', '=', row.id)
    .orderBy('tasting_id')
    .execute();
  const free = new Map<string, number>();
  for (const { detail } of await listAskChanges(db, workspace, row.id))
    if (detail.free) free.set(detail.free.person, detail.free.mg);
  return {
    ...row,
    favour: favour === 1,
    wanted,
    free: [...free].filter(([, mg]) => mg > 0).map(([person, mg]) => ({ person, mg })),
    createdAt: new Date(created_at),
  };
}

/**
 * Roast days of a coffee for which a tasting must not ask again by itself: the roaster declined or offered
 * another day instead, or a person took the tasting off the ask. By tasting.
 */
export async function listRefusedDays(
  db: Db,
  workspace: string,
  coffeeId: number,
): Promise<ReadonlyMap<number, ReadonlySet<string>>> {
  const declined = await db
    .selectFrom('ask')
    .innerJoin('ask_for', 'ask_for.ask_id', 'ask.id')
    .select(['ask_for.tasting_id', 'roast_day'])
    .where((eb) => eb.and({ workspace, coffee_id: coffeeId, state: 'declined' }))
    .execute();
  const changes = await db
    .selectFrom('ask_change')
    .innerJoin('ask', 'ask.id', 'ask_change.ask_id')
    .select(['ask.id', 'ask_change.detail_json'])
    .where((eb) => eb.and({ 'ask.workspace': workspace, 'ask.coffee_id': coffeeId }))
    .orderBy('ask_change.id')
    .execute();
  const refused = new Map<number, Set<string>>();
  const refuse = (tastingId: number, day: string) =>
    refused.set(tastingId, (refused.get(tastingId) ?? new Set()).add(day));
  for (const row of declined) refuse(row.tasting_id, row.roast_day);
  const tables = new Map<number, Set<number>>();
  for (const { id, detail_json } of changes) {
    const { what, tasting, day, notOn } = AskDetail.parse(JSON.parse(detail_json));
    if (tasting !== undefined) tables.set(id, (tables.get(id) ?? new Set()).add(tasting));
    if (what === 'left' && tasting !== undefined && day) refuse(tasting, day);
    if (notOn) for (const tastingId of tables.get(id) ?? []) refuse(tastingId, notOn);
  }
  return refused;
}

/** The history of one ask, the oldest first. */
export async function listAskChanges(
  db: Db,
  workspace: string,
  askId: number,
): Promise<readonly AskChanged[]> {
  const rows = await db
    .selectFrom('ask_change')
    .selectAll()
    .where((eb) => eb.and({ workspace, ask_id: askId }))
    .orderBy('id')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    at: new Date(row.at),
    who: row.who,
    from: State.nullable().parse(row.from_state),
    to: State.parse(row.to_state),
    detail: AskDetail.parse(JSON.parse(row.detail_json)),
  }));
}

/** Adds one change to the history of an ask. */
async function recordAskChange(
  db: Db,
  workspace: string,
  askId: number,
  from: AskState | null,
  to: AskState,
  change: HistoryEntry,
): Promise<void> {
  await db
    .insertInto('ask_change')
    .values({
      workspace,
      ask_id: askId,
      at: change.at.toISOString(),
      who: change.who,
      from_state: from,
      to_state: to,
      detail_json: JSON.stringify(AskDetail.parse(change.detail)),
    })
    .execute();
}
