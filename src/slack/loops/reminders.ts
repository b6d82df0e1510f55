import { inTransaction } from '../../store/db.js';
import { fireReminder, listDue, nextDue, type Reminder } from '../../store/reminders.js';
import { createLoop, type Loop } from '../loop.js';
import type { Runtime } from '../runtime.js';

const BATCH = 20;
const AFTER_FAILURE_MS = 30_000;

/**
 * Runs reminders when their time comes by the injected clock. Each is claimed in the transaction that runs
 * it, so a crash neither loses nor doubles one.
 */
export function createReminderLoop(runtime: Runtime): Loop {
  const { bot, counters, deps, wake } = runtime;
  const { db, clock, log } = deps;
  /** Reminders that failed, and when they may run again; in memory, as a restart may as well try at once. */
  const heldUntil = new Map<string, number>();

  return createLoop('reminders', runtime, async () => {
    const now = clock.now();
    const due = (await listDue(db, now, BATCH + heldUntil.size)).filter(
      (reminder) => (heldUntil.get(identity(reminder)) ?? 0) <= now.getTime(),
    );
    for (const reminder of due) {
      try {
        const isOurs = await inTransaction(db, async (trx) => {
          const isClaimed = await fireReminder(trx, reminder, now);
          if (isClaimed) await bot.due({ ...deps, db: trx }, reminder);
          return isClaimed;
        });
        if (isOurs) counters.reminders.inc();
        heldUntil.delete(identity(reminder));
      } catch (error) {
        counters.failed.inc({ where: 'reminder' });
        log.error({ err: error, key: reminder.key }, 'a reminder failed and is tried again');
        heldUntil.set(identity(reminder), now.getTime() + AFTER_FAILURE_MS);
      }
    }
    if (due.length > 0) {
      wake();
      return 0;
    }
    const next = await nextDue(db);
    return next === null ? null : Math.max(next.getTime() - clock.now().getTime(), 1000);
  });
}

function identity({ workspace, key, dueAt }: Reminder): string {
  return `${workspace} ${key} ${dueAt.toISOString()}`;
}
