import type { DbOrTransaction } from './db.js';
import type { Reservation } from './lots.js';

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
 * Takes what a tasting holds off the shelf for good: its table was set and the coffee is ground. The lots
 * lose the grams, empty ones are marked so, and the reservations end with them.
 *
 * @returns milligrams used per lot
 */
export async function useReserved(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
  at: Date,
): Promise<ReadonlyMap<number, number>> {
  const held = await listReservationsOf(db, tastingId);
  for (const { lotId, mg } of held) {
    const lot = await db
      .selectFrom('lot')
      .select('mg')
      .where('workspace', '=', workspace)
      .where('id', '=', lotId)
      .executeTakeFirstOrThrow();
    const left = Math.max(0, lot.mg - mg);
    await db
      .updateTable('lot')
      .set({ mg: left, emptied_at: left === 0 ? at.toISOString() : null })
      .where('id', '=', lotId)
      .execute();
  }
  await db
    .deleteFrom('reservation')
    .where('workspace', '=', workspace)
    .where('tasting_id', '=', tastingId)
    .execute();
  return new Map(held.map((row) => [row.lotId, row.mg]));
}
