import type { Tasting } from '../../domain/record/tasting.js';
import { stateAfter, type TastingChange, tastingReminders } from '../../domain/table/tasting.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { cancelReminders, listReminderKeys, setReminder } from '../../store/reminders.js';
import { findTasting, updateTasting } from '../../store/tastings.js';

/** Whose change it is, and when. */
export type ChangeContext = { readonly workspace: string; readonly now: Date; readonly who: string };

/** What goes with a change of state. */
type Along = {
  readonly values?: Parameters<typeof updateTasting>[2];
  /** What the history keeps besides. */
  readonly detail?: unknown;
  /** Stands before the reason when the change is refused. */
  readonly refused?: string;
};

/** How the history calls each change. */
const RECORDED: Readonly<Record<TastingChange, string>> = {
  'make ready': 'ready',
  unready: 'unready',
  open: 'opened',
  close: 'closed',
  reopen: 'reopened',
  decide: 'decided',
  cancel: 'cancelled',
  move: 'moved',
};

/**
 * The one place where a tasting's state changes: the domain rules, the store keeps it with who and when, its
 * reminders and whatever shows it follow. Call it in the transaction of the command.
 *
 * @returns false when it was so already, and nothing was written
 * @throws {UserError} when the state does not allow it
 */
export async function changeTasting(
  trx: Db,
  context: ChangeContext,
  tasting: Pick<Tasting, 'id' | 'state'>,
  change: TastingChange,
  { values = {}, detail, refused = '' }: Along = {},
): Promise<boolean> {
  const { workspace, now, who } = context;
  const next = stateAfter(tasting.state, change);
  if (!next.ok) throw new UserError(`${refused}${next.message}`);
  if (!next.changed) return false;
  await updateTasting(
    trx,
    { id: tasting.id, workspace },
    { state: next.state, ...values },
    { who, at: now, change: RECORDED[change], detail },
  );
  await syncTastingReminders(trx, workspace, tasting.id, now);
  await markChanged(trx, workspace, `tasting:${tasting.id}`, now);
  return true;
}

/** Sets a tasting's reminders to what its state now asks for; what no longer fits is cancelled. */
export async function syncTastingReminders(
  db: Db,
  workspace: string,
  tastingId: number,
  now: Date,
): Promise<void> {
  const tasting = await findTasting(db, workspace, tastingId);
  if (!tasting) return;
  const subject = `tasting:${tastingId}`;
  const house = await loadHouse(db, workspace);
  const known = new Set(await listReminderKeys(db, workspace, subject));
  await cancelReminders(db, workspace, subject, now);
  for (const { kind, dueAt } of tastingReminders(tasting, house.timeZone)) {
    const key = `${kind}:${tastingId}:${tasting.startsAt.toISOString()}`;
    // A time already past when it is first worked out is no reminder; one that fell due meanwhile still is.
    if (dueAt <= now && !known.has(key)) continue;
    await setReminder(db, { workspace, key, subject, kind, dueAt, detail: null });
  }
}
