import type { Tasting } from '../../domain/record/tasting.js';
import { tastingName } from '../../domain/record/tasting.js';
import { changeTasting as nextState } from '../../domain/table/tasting.js';
import { KindRefusal } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import type { DbOrTransaction } from '../../store/db.js';
import { changeTasting } from '../../store/tastings.js';
import type { TableReadiness } from '../planning/load-plan.js';
import { planTableRoasts } from '../planning/plan-roasts.js';
import { syncTastingReminders } from './tasting-reminders.js';

type Context = { readonly workspace: string; readonly now: Date; readonly who: string };

/**
 * Moves a tasting that has not begun: what was set aside is looked at anew, and so are its roast asks and
 * reminders. Call it inside the transaction of the command; moving to the same time changes nothing.
 */
export async function moveTasting(
  trx: DbOrTransaction,
  context: Context,
  tasting: Tasting,
  at: Date,
): Promise<TableReadiness> {
  const next = nextState(tasting.state, 'move');
  if (!next.ok) throw new KindRefusal('not now', `${tastingName(tasting)} cannot be moved. ${next.message}`);
  const id = { id: tasting.id, workspace: context.workspace };
  const detail = { from: tasting.startsAt.toISOString(), to: at.toISOString() };
  await changeTasting(
    trx,
    id,
    { starts_at: at.toISOString(), state: next.state },
    { who: context.who, at: context.now, change: 'moved', detail },
  );
  return settle(trx, context, tasting.id);
}

/** Cancels a tasting in any state before decided. */
export async function cancelTasting(trx: DbOrTransaction, context: Context, tasting: Tasting): Promise<void> {
  const next = nextState(tasting.state, 'cancel');
  if (!next.ok) throw new KindRefusal('not now', next.message);
  const id = { id: tasting.id, workspace: context.workspace };
  await changeTasting(
    trx,
    id,
    { state: next.state },
    { who: context.who, at: context.now, change: 'cancelled' },
  );
  await settle(trx, context, tasting.id);
}

async function settle(trx: DbOrTransaction, context: Context, tastingId: number): Promise<TableReadiness> {
  const plan = await planTableRoasts(trx, context, tastingId);
  await syncTastingReminders(trx, context.workspace, tastingId, context.now);
  await markChanged(trx, context.workspace, `tasting:${tastingId}`, context.now);
  return plan;
}
