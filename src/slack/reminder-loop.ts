import { fireReminder, listDue, nextDue, type Reminder } from '../store/reminders.js';
import { inTransaction } from '../store/transaction.js';
import type { House } from './house.js';
import { createLoop, type Loop } from './loop.js';

const BATCH = 20;
const AFTER_FAILURE_MS = 30_000;

/**
 * Runs reminders when their time comes by the injected clock. Each is claimed in the transaction that runs
 * it, so a crash neither loses nor doubles one.
 */
export function createReminderLoop(house: House): Loop {
  /** Reminders that failed, and when they may run again; in memory, as a restart may as well try at once. */
  const heldUntil = new Map<string, number>();

  return createLoop('reminders', house, async () => {
    await house.rightOfWay.toShow();
    const { db, clock } = house.deps;
    const now = clock.now();
    const due = (await listDue(db, now, BATCH + heldUntil.size)).filter(
      (reminder) => (heldUntil.get(identity(reminder)) ?? 0) <= now.getTime(),
    );
    for (const reminder of due) {
      try {
        await fire(house, reminder, now);
        heldUntil.delete(identity(reminder));
      } catch (error) {
        house.counters.failed.inc({ where: 'reminder' });
        house.deps.log.error({ err: error, key: reminder.key }, 'a reminder failed and is tried again');
        heldUntil.set(identity(reminder), now.getTime() + AFTER_FAILURE_MS);
      }
    }
    if (due.length > 0) {
      house.wake();
      return 0;
    }
    const next = await nextDue(db);
    return next === null ? null : Math.max(next.getTime() - clock.now().getTime(), 1000);
  });
}

async function fire(house: House, reminder: Reminder, now: Date): Promise<void> {
  const fired = await inTransaction(house.deps.db, async (db) => {
    if (!(await fireReminder(db, reminder, now))) return false;
    const { workspace, key, subject, kind, detail } = reminder;
    await house.bot.due({ ...house.deps, db }, { workspace, key, subject, kind, detail });
    return true;
  });
  if (fired) house.counters.reminders.inc();
}

function identity(reminder: Reminder): string {
  return `${reminder.workspace} ${reminder.key} ${reminder.dueAt.toISOString()}`;
}
