import type { Selectable } from 'kysely';
import type { Lot } from '../domain/record/coffee.js';
import type { DbOrTransaction } from './db.js';
import type { LotTable } from './schema.js';

/** Roasted milligrams of one lot that a tasting holds. */
export type Reservation = { readonly tastingId: number; readonly lotId: number; readonly mg: number };

/** What stands on the shelf, oldest roast first; emptied lots are left out. */
export async function listLots(db: DbOrTransaction, workspace: string): Promise<readonly Lot[]> {
  const rows = await db
    .selectFrom('lot')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('emptied_at', 'is', null)
    .orderBy('roasted_on')
    .orderBy('id')
    .execute();
  return rows.map(toLot);
}

/** The lots of one coffee on the shelf, oldest roast first. */
export async function listLotsOf(
  db: DbOrTransaction,
  workspace: string,
  coffeeId: number,
): Promise<readonly Lot[]> {
  const lots = await listLots(db, workspace);
  return lots.filter((lot) => lot.coffeeId === coffeeId);
}

/** Puts roasted coffee on the shelf and returns the lot's id. `roastId` when the roast itself is on record. */
export async function insertLot(
  db: DbOrTransaction,
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

/**
 * Sets what is left of a lot, in milligrams; nothing left empties it. Tastings keep what they hold first
 * come, first served: what the lot no longer covers is cut from the reservations made last.
 *
 * @returns the tastings that lost grams, and how many milligrams each
 */
export async function setLotLeft(
  db: DbOrTransaction,
  workspace: string,
  lotId: number,
  leftMg: number,
  at: Date,
): Promise<readonly { readonly tastingId: number; readonly lostMg: number }[]> {
  await db
    .updateTable('lot')
    .set({ mg: leftMg, emptied_at: leftMg === 0 ? at.toISOString() : null })
    .where('workspace', '=', workspace)
    .where('id', '=', lotId)
    .execute();
  const held = await db
    .selectFrom('reservation')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('lot_id', '=', lotId)
    .orderBy('id')
    .execute();
  const lost: { tastingId: number; lostMg: number }[] = [];
  let left = leftMg;
  for (const reservation of held) {
    const keeps = Math.min(left, reservation.mg);
    left -= keeps;
    if (keeps === reservation.mg) continue;
    lost.push({ tastingId: reservation.tasting_id, lostMg: reservation.mg - keeps });
    if (keeps === 0) await db.deleteFrom('reservation').where('id', '=', reservation.id).execute();
    else await db.updateTable('reservation').set({ mg: keeps }).where('id', '=', reservation.id).execute();
  }
  return lost;
}

/** Everything reserved on the shelf, in the order in which it was reserved. */
export async function listReservations(
  db: DbOrTransaction,
  workspace: string,
): Promise<readonly Reservation[]> {
  const rows = await db
    .selectFrom('reservation')
    .selectAll()
    .where('workspace', '=', workspace)
    .orderBy('id')
    .execute();
  return rows.map((row) => ({ tastingId: row.tasting_id, lotId: row.lot_id, mg: row.mg }));
}

function toLot(row: Selectable<LotTable>): Lot {
  return {
    id: row.id,
    coffeeId: row.coffee_id,
    mg: row.mg,
    roastedOn: row.roasted_on,
    bestBy: row.best_by,
  };
}
