import { listAsks } from '../store/asks.js';
import { markChanged } from '../store/changed.js';
import type { DbOrTransaction } from '../store/db.js';
import { listTastings } from '../store/tastings.js';

/**
 * After the shelf, a coffee or the house changed: everything that shows them is worked out anew. Call it
 * in the transaction of the change.
 */
export async function settleShelf(db: DbOrTransaction, workspace: string, now: Date): Promise<void> {
  for (const tasting of await listTastings(db, workspace, ['booked', 'ready', 'open', 'closed'])) {
    await markChanged(db, workspace, `tasting:${tasting.id}`, now);
  }
  for (const ask of await listAsks(db, workspace, ['asked', 'accepted', 'offered'])) {
    await markChanged(db, workspace, `ask:${ask.id}`, now);
  }
}
