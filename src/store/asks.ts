import type { Insertable, Selectable } from 'kysely';
import { z } from 'zod';
import { ASK_STATES, type Ask, type AskState } from '../domain/record/ask.js';
import type { DbOrTransaction } from './db.js';
import type { AskTable } from './schema.js';

const State = z.enum(ASK_STATES);

/** What a change of an ask was about; everything is optional because each kind of change says its own part. */
export const AskDetail = z.object({
  /** Which change it was: 'asked', 'joined', 'accept', 'offer', 'agree', 'decline', 'grams' … */
  what: z.string(),
  /** Grams that a person wants without a tasting, from now on (0: none). */
  free: z.object({ person: z.string(), mg: z.number().int().nonnegative() }).optional(),
  /** The day that was asked for or offered. */
  day: z.string().optional(),
  /** The roaster's or the bot's reason, in words. */
  because: z.string().nullable().optional(),
  /** Green to charge before and after, when the amount changed. */
  greenMg: z.tuple([z.number().int(), z.number().int()]).optional(),
});
export type AskDetail = z.output<typeof AskDetail>;

/** One entry of an ask's history, the oldest first in lists. */
export type AskChanged = {
  readonly id: number;
  readonly at: Date;
  readonly who: string;
  readonly from: AskState | null;
  readonly to: AskState;
  readonly detail: AskDetail;
};

/** An ask as it is stored: with who asked first, and when. */
export type StoredAsk = Ask & { readonly createdBy: string; readonly createdAt: Date };

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

/** Asks in any of these states, the earliest roast day first; of one coffee when it is given. */
export async function listAsks(
  db: DbOrTransaction,
  workspace: string,
  states: readonly AskState[],
  coffeeId?: number,
): Promise<readonly StoredAsk[]> {
  const rows = await db
    .selectFrom('ask')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('state', 'in', [...states])
    .$if(coffeeId !== undefined, (query) => query.where('coffee_id', '=', coffeeId ?? 0))
    .orderBy('roast_day')
    .orderBy('id')
    .execute();
  return Promise.all(rows.map((row) => toAsk(db, row)));
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

/** The ask that a roast answered, or null: its lot serves the tables of that ask first. */
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

type Change = { readonly who: string; readonly at: Date; readonly detail: AskDetail };

/** Adds an ask in state `asked` and the first entry of its history; returns its id. */
export async function insertAsk(
  db: DbOrTransaction,
  ask: Omit<Insertable<AskTable>, 'id' | 'state' | 'created_at' | 'created_by'>,
  change: Change,
): Promise<number> {
  const { id } = await db
    .insertInto('ask')
    .values({ ...ask, state: 'asked', created_at: change.at.toISOString(), created_by: change.who })
    .returning('id')
    .executeTakeFirstOrThrow();
  await keep(db, ask.workspace, id, null, 'asked', change);
  return id;
}

/** Changes columns of one ask and keeps who did it, when, from which state and to which. */
export async function updateAsk(
  db: DbOrTransaction,
  workspace: string,
  ask: Pick<Ask, 'id' | 'state'>,
  values: Partial<Omit<Insertable<AskTable>, 'id' | 'workspace' | 'state'>> & { readonly state?: AskState },
  change: Change,
): Promise<void> {
  if (Object.keys(values).length > 0) {
    await db
      .updateTable('ask')
      .set(values)
      .where('workspace', '=', workspace)
      .where('id', '=', ask.id)
      .execute();
  }
  await keep(db, workspace, ask.id, ask.state, values.state ?? ask.state, change);
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

/** The history of one ask, the oldest first. */
export async function listAskChanges(
  db: DbOrTransaction,
  workspace: string,
  askId: number,
): Promise<readonly AskChanged[]> {
  const rows = await db
    .selectFrom('ask_change')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('ask_id', '=', askId)
    .orderBy('id')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    at: new Date(row.at),
    who: row.who,
    from: row.from_state === null ? null : State.parse(row.from_state),
    to: State.parse(row.to_state),
    detail: AskDetail.parse(JSON.parse(row.detail_json)),
  }));
}

/** Kinds of the reminders about one subject that have fired, with when. */
export async function listFired(
  db: DbOrTransaction,
  workspace: string,
  subject: string,
): Promise<ReadonlyMap<string, Date>> {
  const rows = await db
    .selectFrom('reminder')
    .select(['kind', 'fired_at'])
    .where('workspace', '=', workspace)
    .where('subject', '=', subject)
    .where('fired_at', 'is not', null)
    .orderBy('fired_at')
    .execute();
  return new Map(rows.map((row) => [row.kind, new Date(row.fired_at ?? 0)]));
}

async function keep(
  db: DbOrTransaction,
  workspace: string,
  askId: number,
  from: AskState | null,
  to: AskState,
  change: Change,
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

async function toAsk(db: DbOrTransaction, row: Selectable<AskTable>): Promise<StoredAsk> {
  const wanted = await db
    .selectFrom('ask_for')
    .select(['tasting_id', 'mg'])
    .where('ask_id', '=', row.id)
    .orderBy('tasting_id')
    .execute();
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
    createdBy: row.created_by,
    createdAt: new Date(row.created_at),
  };
}
