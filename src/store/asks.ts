import { type Insertable, type Selectable, sql } from 'kysely';
import { z } from 'zod';
import { ASK_STATES, type Ask, type AskState } from '../domain/record/ask.js';
import { AskDetail, type HistoryEntry, keepChange } from './ask-history.js';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';
import type { AskTable } from './schema.js';

const State = z.enum(ASK_STATES);

/** The subject under which an ask's notices and reminders are kept: "ask:7". */
export function askSubject(id: number): string {
  return `ask:${id}`;
}

/** An ask as it is stored: with who asked first and when. */
export type StoredAsk = Ask & {
  readonly createdBy: string;
  readonly createdAt: Date;
};

/** The ask with this id, only inside its own workspace, or null. */
export async function findAsk(db: DbOrTransaction, workspace: string, id: number): Promise<StoredAsk | null> {
  const row = await db
    .selectFrom('ask')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('id', '=', id)
    .executeTakeFirst();
  return row ? toAsk(db, row) : null;
}

/** The ask that a roast was recorded for, or null. */
export async function findAskOfRoast(
  db: DbOrTransaction,
  workspace: string,
  roastId: number,
): Promise<StoredAsk | null> {
  const row = await db
    .selectFrom('ask')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('roast_id', '=', roastId)
    .executeTakeFirst();
  return row ? toAsk(db, row) : null;
}

const inStates = prepared<{ readonly workspace: string; readonly states: string }>()((db, given) =>
  db
    .selectFrom('ask')
    .selectAll()
    .where('workspace', '=', given('workspace'))
    .where(sql<boolean>`state in (select value from json_each(${given('states')}))`)
    .orderBy('roast_day')
    .orderBy('id'),
);

/** Asks in any of these states, the earliest roast day first; of one coffee when it is given. */
export async function listAsks(
  db: DbOrTransaction,
  workspace: string,
  states: readonly AskState[],
  coffeeId?: number,
): Promise<readonly StoredAsk[]> {
  const rows = await inStates(db, { workspace, states: JSON.stringify(states) });
  const wanted = rows.filter((row) => coffeeId === undefined || row.coffee_id === coffeeId);
  return Promise.all(wanted.map((row) => toAsk(db, row)));
}

/** Every ask that one tasting stands behind, in any state, the oldest first. */
export async function listAsksFor(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
): Promise<readonly StoredAsk[]> {
  const rows = await db
    .selectFrom('ask')
    .innerJoin('ask_for', 'ask_for.ask_id', 'ask.id')
    .selectAll('ask')
    .where('ask.workspace', '=', workspace)
    .where('ask_for.tasting_id', '=', tastingId)
    .orderBy('ask.id')
    .execute();
  return Promise.all(rows.map((row) => toAsk(db, row)));
}

/** Ids of the asks a tasting stands behind, in any state. */
export async function listAskIdsFor(db: DbOrTransaction, tastingId: number): Promise<readonly number[]> {
  const rows = await db.selectFrom('ask_for').select('ask_id').where('tasting_id', '=', tastingId).execute();
  return rows.map((row) => row.ask_id);
}

/** The lots that came out of asks: lot id → ask id. They serve the tables of that ask first. */
export async function listLotsOfAsks(
  db: DbOrTransaction,
  workspace: string,
): Promise<ReadonlyMap<number, number>> {
  const rows = await db
    .selectFrom('lot')
    .innerJoin('ask', 'ask.roast_id', 'lot.roast_id')
    .select(['lot.id as lot', 'ask.id as ask'])
    .where('lot.workspace', '=', workspace)
    .where('lot.emptied_at', 'is', null)
    .execute();
  return new Map(rows.map((row) => [row.lot, row.ask]));
}

/** Adds an ask in state `asked` and the first entry of its history; returns its id. */
export async function insertAsk(
  db: DbOrTransaction,
  ask: Omit<Insertable<AskTable>, 'id' | 'state' | 'created_at' | 'created_by'>,
  change: HistoryEntry,
): Promise<number> {
  const { id } = await db
    .insertInto('ask')
    .values({ ...ask, state: 'asked', created_at: change.at.toISOString(), created_by: change.who })
    .returning('id')
    .executeTakeFirstOrThrow();
  await keepChange(db, ask.workspace, id, null, 'asked', change);
  return id;
}

/** Changes columns of one ask and keeps who did it, when, from which state and to which. */
export async function updateAsk(
  db: DbOrTransaction,
  workspace: string,
  ask: Pick<Ask, 'id' | 'state'>,
  values: Partial<Omit<Insertable<AskTable>, 'id' | 'workspace' | 'state'>> & { readonly state?: AskState },
  change: HistoryEntry,
): Promise<void> {
  if (Object.keys(values).length > 0) {
    await db
      .updateTable('ask')
      .set(values)
      .where('workspace', '=', workspace)
      .where('id', '=', ask.id)
      .execute();
  }
  await keepChange(db, workspace, ask.id, ask.state, values.state ?? ask.state, change);
}

/** Says how many roasted milligrams of an ask are for one tasting; 0 takes the tasting off the ask. */
export async function setWanted(
  db: DbOrTransaction,
  askId: number,
  tastingId: number,
  mg: number,
): Promise<void> {
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

async function toAsk(db: DbOrTransaction, row: Selectable<AskTable>): Promise<StoredAsk> {
  const wanted = await db
    .selectFrom('ask_for')
    .select(['tasting_id', 'mg'])
    .where('ask_id', '=', row.id)
    .orderBy('tasting_id')
    .execute();
  const said = await db
    .selectFrom('ask_change')
    .select('detail_json')
    .where('ask_id', '=', row.id)
    .where('detail_json', 'like', '%"free"%')
    .orderBy('id')
    .execute();
  const free = new Map<string, number>();
  for (const { detail_json } of said) {
    const detail = AskDetail.parse(JSON.parse(detail_json));
    if (detail.free) free.set(detail.free.person, detail.free.mg);
  }
  return {
    id: row.id,
    coffeeId: row.coffee_id,
    roaster: row.roaster,
    roastedMg: row.roasted_mg,
    greenMg: row.green_mg,
    lossBp: row.loss_bp,
    drum: row.drum,
    overMg: row.over_mg,
    roastDay: row.roast_day,
    offeredDay: row.offered_day,
    state: State.parse(row.state),
    favour: row.favour === 1,
    reason: row.reason,
    roastId: row.roast_id,
    wanted: wanted.map((entry) => ({ tastingId: entry.tasting_id, mg: entry.mg })),
    free: [...free].filter(([, mg]) => mg > 0).map(([person, mg]) => ({ person, mg })),
    createdBy: row.created_by,
    createdAt: new Date(row.created_at),
  };
}
