import { restState } from '../../domain/roast/shelf.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listLost, SHELF_LOST } from '../../store/reservations.js';
import { updateTasting } from '../../store/tastings.js';
import type { AskContext } from './ask-settle.js';
import type { Supply, TableNeed } from './plan-roasts-supply.js';

/**
 * Keeps in a table's history that other tables hold coffee it goes short of, so that its host is told at
 * once; written only when the grams changed.
 */
export async function keepLost(
  trx: DbOrTransaction,
  context: AskContext,
  supply: Supply,
  table: TableNeed,
): Promise<void> {
  const { tasting } = table.setting;
  const known = await listLost(trx, context.workspace, tasting.id);
  for (const { coffeeId } of table.needs) {
    const { mg, to } = lostTo(supply, table, coffeeId);
    const last = known.findLast((lost) => lost.coffeeId === coffeeId)?.mg ?? 0;
    if (mg === last) continue;
    await updateTasting(
      trx,
      { id: tasting.id, workspace: context.workspace },
      {},
      { who: context.who, at: context.now, change: SHELF_LOST, detail: { coffeeId, mg, to } },
    );
  }
}

/** How much of what a table is short of stands on the shelf for other tables, and for which. */
function lostTo(supply: Supply, table: TableNeed, coffeeId: number): { mg: number; to: number[] } {
  const own = table.setting.tasting.id;
  const rest = table.rests.get(coffeeId);
  const short = supply.shared.short.find((entry) => entry.tastingId === own && entry.coffeeId === coffeeId);
  // Spare grams are there to be gone without: short of no more than them, nobody loses anything.
  if (!short || !rest || short.mg <= table.spareMg) return { mg: 0, to: [] };
  const usable = new Set(
    supply.lots
      .filter((lot) => lot.coffeeId === coffeeId && restState(lot, rest, table.tableDay) === 'good')
      .map((lot) => lot.id),
  );
  const held = supply.shared.reserved.filter((entry) => entry.tastingId !== own && usable.has(entry.lotId));
  const mg = held.reduce((sum, entry) => sum + entry.mg, 0);
  return { mg: Math.min(mg, short.mg), to: [...new Set(held.map((entry) => entry.tastingId))] };
}
