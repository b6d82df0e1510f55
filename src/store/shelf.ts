import type { Lot } from '../domain/record/coffee.js';
import { LIVE_STATES, type TastingState } from '../domain/record/tasting.js';
import type { Db } from './db.js';

/** Roasted milligrams of one lot that a tasting holds. */
export type Reservation = { readonly tastingId: number; readonly lotId: number; readonly mg: number };

/** What stands on the shelf, oldest roast first; emptied lots are left out. */
export async function listLots(db: Db, workspace: string): Promise<readonly Lot[]> {
  return db
    .selectFrom('lot')
    .select(['id', 'coffee_id as coffeeId', 'mg', 'roasted_on as roastedOn', 'best_by as bestBy'])
    .where((eb) => eb.and({ workspace, emptied_at: null }))
    .orderBy('roasted_on')
    .orderBy('id')
    .execute();
}

/** Puts roasted coffee on the shelf and returns the lot's id. `roastId` when the roast itself is on record. */
export async function insertLot(
  db: Db,
  lot: Omit<Lot, 'id'> & {
    readonly workspace: string;
    readonly roastId: number | null;
    readonly who: string;
    readonly at: Date;
  },
): Promise<number> {
  const { id } = await db
    .insertInto('lot')
    .values({
      workspace: lot.workspace,
      coffee_id: lot.coffeeId,
      roast_id: lot.roastId,
      mg: lot.mg,
      roasted_on: lot.roastedOn,
      best_by: lot.bestBy,
      emptied_at: null,
      created_at: lot.at.toISOString(),
      created_by: lot.who,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** What is left on the shelf of a roast, also when nothing is, or null when it never stood there. */
export async function findLotOfRoast(
  db: Db,
  workspace: string,
  roastId: number,
): Promise<Pick<Lot, 'id' | 'mg' | 'bestBy'> | null> {
  const row = await db
    .selectFrom('lot')
    .select(['id', 'mg', 'best_by as bestBy'])
    .where((eb) => eb.and({ workspace, roast_id: roastId }))
    .executeTakeFirst();
  return row ?? null;
}

/** The lot came out of another entry of its roast: from now on it has that one's day and best-by. */
export async function setLotRoast(
  db: Db,
  lotId: number,
  roast: { readonly roastId: number | null; readonly roastedOn: string; readonly bestBy: string },
): Promise<void> {
  await db
    .updateTable('lot')
    .set({ roast_id: roast.roastId, roasted_on: roast.roastedOn, best_by: roast.bestBy })
    .where('id', '=', lotId)
    .execute();
}

/**
 * Sets what is left of a lot, in milligrams; nothing left empties it. Tastings keep what they hold first
 * come, first served: what the lot no longer covers is cut from the reservations made last.
 *
 * @returns the tastings that lost grams, and how many milligrams each
 */
export async function setLotLeft(
  db: Db,
  workspace: string,
  lotId: number,
  leftMg: number,
  at: Date,
): Promise<readonly { readonly tastingId: number; readonly lostMg: number }[]> {
  await setLotMg(db, workspace, lotId, leftMg, at);
  const held = await reservations(db)
    .where((eb) => eb.and({ workspace, lot_id: lotId }))
    .execute();
  const lost: { tastingId: number; lostMg: number }[] = [];
  let left = leftMg;
  for (const reservation of held) {
    const keeps = Math.min(left, reservation.mg);
    left -= keeps;
    if (keeps === reservation.mg) continue;
    lost.push({ tastingId: reservation.tastingId, lostMg: reservation.mg - keeps });
    await setHeld(db, { ...reservation, mg: keeps });
  }
  return lost;
}

/** Everything reserved on the shelf, in the order in which it was reserved. */
export async function listReservations(db: Db, workspace: string): Promise<readonly Reservation[]> {
  return reservations(db).where('workspace', '=', workspace).execute();
}

/** What one tasting holds on the shelf, in the order in which it was reserved. */
export async function listReservationsOf(db: Db, tastingId: number): Promise<readonly Reservation[]> {
  return reservations(db).where('tasting_id', '=', tastingId).execute();
}

/**
 * Makes a tasting hold exactly these milligrams per lot; lots left out are released. What stays as it was
 * keeps its place in time, so saying the same twice changes nothing.
 *
 * @returns whether anything changed
 */
export async function setReservations(
  db: Db,
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
    await setHeld(db, { tastingId, lotId, mg: next });
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
 */
export async function useReserved(
  db: Db,
  workspace: string,
  tastingId: number,
  usedMg: ReadonlyMap<number, number>,
  at: Date,
): Promise<void> {
  const left = new Map(usedMg);
  for (const held of await listReservationsOf(db, tastingId)) {
    const lot = await db
      .selectFrom('lot')
      .select(['mg', 'coffee_id'])
      .where((eb) => eb.and({ workspace, id: held.lotId }))
      .executeTakeFirstOrThrow();
    const mg = Math.min(held.mg, lot.mg, left.get(lot.coffee_id) ?? 0);
    if (mg <= 0) continue;
    left.set(lot.coffee_id, (left.get(lot.coffee_id) ?? 0) - mg);
    await setLotMg(db, workspace, held.lotId, lot.mg - mg, at);
  }
  await db.deleteFrom('reservation').where('tasting_id', '=', tastingId).execute();
}

/** When each tasting was booked: first booked, first served. */
export async function bookedAt(db: Db, workspace: string): Promise<ReadonlyMap<number, Date>> {
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
  db: Db,
  workspace: string,
): Promise<readonly (Reservation & { readonly state: TastingState })[]> {
  return reservations(db)
    .innerJoin('tasting', 'tasting.id', 'reservation.tasting_id')
    .select('tasting.state')
    .where('reservation.workspace', '=', workspace)
    .execute();
}

function reservations(db: Db) {
  return db
    .selectFrom('reservation')
    .select(['tasting_id as tastingId', 'lot_id as lotId', 'reservation.mg'])
    .orderBy('reservation.id');
}

/** Changes what a tasting holds of a lot; nothing held is no reservation. */
async function setHeld(db: Db, { tastingId, lotId, mg }: Reservation): Promise<void> {
  if (mg > 0)
    await db
      .updateTable('reservation')
      .set({ mg })
      .where((eb) => eb.and({ tasting_id: tastingId, lot_id: lotId }))
      .execute();
  else
    await db
      .deleteFrom('reservation')
      .where((eb) => eb.and({ tasting_id: tastingId, lot_id: lotId }))
      .execute();
}

async function setLotMg(db: Db, workspace: string, lotId: number, mg: number, at: Date): Promise<void> {
  await db
    .updateTable('lot')
    .set({ mg, emptied_at: mg === 0 ? at.toISOString() : null })
    .where((eb) => eb.and({ workspace, id: lotId }))
    .execute();
}
