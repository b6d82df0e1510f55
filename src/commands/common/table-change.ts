import type { Action } from '../../domain/record/permission.js';
import { tastingName } from '../../domain/record/tasting.js';
import { changeTasting as nextState, type TastingChange } from '../../domain/table/tasting.js';
import { KindRefusal } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { loadHouse } from '../../store/house.js';
import { countLateNotes } from '../../store/notes.js';
import { changeTasting, findTasting } from '../../store/tastings.js';
import { inTransaction } from '../../store/transaction.js';
import { planTableRoasts, useTableCoffee } from '../planning/plan-roasts.js';
import type { Deps } from './deps.js';
import { requireMay, standingOf } from './standing.js';
import { syncTastingReminders } from './tasting-reminders.js';
import type { Who } from './who.js';

const STAMPS = new Map<TastingChange, { readonly action: Action; readonly done: string }>([
  ['open', { action: 'open table', done: 'opened' }],
  ['close', { action: 'close table', done: 'closed' }],
  ['reopen', { action: 'close table', done: 'reopened' }],
]);

/**
 * Opens, closes or reopens a table; a second tap changes nothing.
 *
 * @returns false when it was so already
 */
export async function changeTable(
  deps: Deps,
  who: Who,
  tastingId: number,
  change: 'open' | 'close' | 'reopen',
): Promise<boolean> {
  const now = deps.clock.now();
  const house = await loadHouse(deps.db, who.workspace);
  return inTransaction(deps.db, async (trx) => {
    const tasting = await findTasting(trx, who.workspace, tastingId);
    if (!tasting) throw new KindRefusal('not found', 'I cannot find that tasting any more.');
    const stamp = STAMPS.get(change);
    if (stamp) requireMay(stamp.action, standingOf(who.person, house, { tasting }), tasting);
    const next = nextState(tasting.state, change);
    if (!next.ok) throw new KindRefusal('not now', `${tastingName(tasting)}: ${next.message}`);
    if (!next.changed) return false;
    await changeTasting(
      trx,
      { id: tasting.id, workspace: who.workspace },
      { state: next.state, ...stamped(change, now) },
      { who: who.person, at: now, change: stamp?.done ?? change },
    );
    if (change === 'open')
      await planTableRoasts(trx, { workspace: who.workspace, now, who: who.person }, tasting.id);
    if (change === 'close')
      await useTableCoffee(trx, { workspace: who.workspace, now, who: who.person }, tasting.id);
    if (change === 'reopen') await countLateNotes(trx, tasting.id);
    await syncTastingReminders(trx, who.workspace, tasting.id, now);
    await markChanged(trx, who.workspace, `tasting:${tasting.id}`, now);
    return true;
  });
}

/** The tally stands from closing on; a table that reopens keeps it, and it stays true. */
function stamped(change: 'open' | 'close' | 'reopen', now: Date) {
  if (change === 'open') return { opened_at: now.toISOString() };
  return change === 'close' ? { closed_at: now.toISOString(), tally_shown: 1 } : { closed_at: null };
}
