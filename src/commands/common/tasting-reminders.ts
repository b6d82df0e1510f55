import { tastingReminders } from '../../domain/table/tasting-reminders.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { cancelReminders, listReminderKeys, setReminder } from '../../store/reminders.js';
import { findTasting } from '../../store/tastings.js';

/** Sets a tasting's reminders to what its state now asks for; what no longer fits is cancelled. */
export async function syncTastingReminders(
  db: DbOrTransaction,
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
