import { z } from 'zod';
import { LIVE_STATES, TASTING_STATES, type TastingState } from '../domain/record/tasting.js';
import type { DbOrTransaction } from './db.js';
import type { Reservation } from './lots.js';

const State = z.enum(TASTING_STATES);

/** What one tasting holds on the shelf, in the order in which it was reserved. */
export async function listReservationsOf(
  db: DbOrTransaction,
  tastingId: number,
): Promise<readonly Reservation[]> {
  const rows = await db
    .selectFrom('reservation')
    .selectAll()
    .where('tasting_id', '=', tastingId)
    .orderBy('id')
    .execute();
  return rows.map((row) => ({ tastingId: row.tasting_id, lotId: row.lot_id, mg: row.mg }));
}

/**
 * Makes a tasting hold exactly these milligrams per lot; lots left out are released. What stays as it was
 * keeps its place in time, so saying the same twice changes nothing.
 *
 * @returns whether anything changed
 */
export async function setReservations(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
  wanted: ReadonlyMap<number, number>,
  at: Date,
): Promise<boolean> {
  const held = new Map((await listReservationsOf(db, tastingId)).map((row) => [row.lotId, row.mg]));
  let changed = false;
  for (const [lotId, mg] of held) {
    const next = wanted.get(lotId) ?? 0;
    if (next === mg) continue;
    changed = true;
    if (next <= 0) {
      await db
        .deleteFrom('reservation')
        .where('tasting_id', '=', tastingId)
        .where('lot_id', '=', lotId)
        .execute();
    } else {
      await db
        .updateTable('reservation')
        .set({ mg: next })
        .where('tasting_id', '=', tastingId)
        .where('lot_id', '=', lotId)
        .execute();
    }
  }
  for (const [lotId, mg] of wanted) {
    if (mg <= 0 || held.has(lotId)) continue;
    changed = true;
    await db
      .insertInto('reservation')
      .values({ workspace, tasting_id: tastingId, lot_id: lotId, mg, created_at: at.toISOString() })
      .execute();
  }
  return changed;
}

/**
 * Ends what a tasting holds and takes what its table used off the shelf: the lots lose those milligrams,
 * the rest stays on the shelf for others.
 *
 * @param usedMg what the table used of each coffee
 * @returns milligrams taken per lot
 */
export async function useReserved(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
  usedMg: ReadonlyMap<number, number>,
  at: Date,
): Promise<ReadonlyMap<number, number>> {
  const left = new Map(usedMg);
  const taken = new Map<number, number>();
  for (const held of await listReservationsOf(db, tastingId)) {
    const lot = await db
      .selectFrom('lot')
      .select(['mg', 'coffee_id'])
      .where('workspace', '=', workspace)
      .where('id', '=', held.lotId)
      .executeTakeFirstOrThrow();
    const mg = Math.min(held.mg, lot.mg, left.get(lot.coffee_id) ?? 0);
    if (mg <= 0) continue;
    left.set(lot.coffee_id, (left.get(lot.coffee_id) ?? 0) - mg);
    taken.set(held.lotId, mg);
    const rest = lot.mg - mg;
    await db
      .updateTable('lot')
      .set({ mg: rest, emptied_at: rest === 0 ? at.toISOString() : null })
      .where('id', '=', held.lotId)
      .execute();
  }
  await db.deleteFrom('reservation').where('tasting_id', '=', tastingId).execute();
  return taken;
}

/** When each tasting was booked: first booked, first served. */
export async function bookedAt(db: DbOrTransaction, workspace: string): Promise<ReadonlyMap<number, Date>> {
  const rows = await db
    .selectFrom('tasting')
    .select(['id', 'created_at'])
    .where('workspace', '=', workspace)
    .where('state', 'in', LIVE_STATES)
    .execute();
  return new Map(rows.map((row) => [row.id, new Date(row.created_at)]));
}

/** Everything held on the shelf, with the state of the tasting that holds it. */
export async function listHeld(
  db: DbOrTransaction,
  workspace: string,
): Promise<readonly (Reservation & { readonly state: TastingState })[]> {
  const rows = await db
    .selectFrom('reservation')
    .innerJoin('tasting', 'tasting.id', 'reservation.tasting_id')
    .select(['reservation.tasting_id', 'reservation.lot_id', 'reservation.mg', 'tasting.state'])
    .where('reservation.workspace', '=', workspace)
    .orderBy('reservation.id')
    .execute();
  return rows.map((row) => ({
    tastingId: row.tasting_id,
    lotId: row.lot_id,
    mg: row.mg,
    state: State.parse(row.state),
  }));
}

/** A coffee that other tables, booked before, hold on the shelf while this one goes short. */
export type Lost = {
  readonly id: number;
  readonly at: Date;
  readonly coffeeId: number;
  readonly mg: number;
  readonly to: readonly number[];
};

const LostDetail = z.object({
  coffeeId: z.number().int(),
  mg: z.number().int(),
  to: z.array(z.number().int()),
});
/** The word under which a tasting's history keeps that it lost grams of the shelf to others. */
export const SHELF_LOST = 'shelf lost';

/** What a tasting lost to others on the shelf, as its history tells it, the oldest first. */
export async function listLost(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
): Promise<readonly Lost[]> {
  const rows = await db
    .selectFrom('tasting_change')
    .select(['id', 'at', 'detail_json'])
    .where('workspace', '=', workspace)
    .where('tasting_id', '=', tastingId)
    .where('change', '=', SHELF_LOST)
    .orderBy('id')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    at: new Date(row.at),
    ...LostDetail.parse(JSON.parse(row.detail_json)),
  }));
}
