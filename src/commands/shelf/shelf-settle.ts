import { LIVE_STATES } from '../../domain/record/tasting.js';
import { listAsks } from '../../store/asks.js';
import { markChanged } from '../../store/changed.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listTastings } from '../../store/tastings.js';
import type { Who } from '../common/who.js';
import { replanRoasts } from '../planning/plan-roasts.js';

/**
 * After the shelf, a coffee or the house changed: the shelf is shared out anew, roast asks follow, and
 * everything that shows them is worked out again. Call it in the transaction of the change.
 */
export async function settleShelf(db: DbOrTransaction, who: Who, now: Date): Promise<void> {
  const { workspace, person } = who;
  await replanRoasts(db, { workspace, now, who: person });
  for (const tasting of await listTastings(db, workspace, LIVE_STATES)) {
    await markChanged(db, workspace, `tasting:${tasting.id}`, now);
  }
  for (const ask of await listAsks(db, workspace, ['asked', 'accepted', 'offered'])) {
    await markChanged(db, workspace, `ask:${ask.id}`, now);
  }
}
