import type { Db } from './db.js';

/** One moment to come back to: `key` is its identity in the workspace. */
export type Reminder = {
  readonly workspace: string;
  readonly key: string;
  readonly subject: string;
  readonly kind: string;
  readonly dueAt: Date;
};

/**
 * Sets a reminder, or moves the one with that key. One that has fired stays fired unless its time changes;
 * one that was cancelled is set again.
 */
export async function setReminder(db: Db, reminder: Reminder): Promise<void> {
  const { workspace, key, subject, kind } = reminder;
  const due_at = reminder.dueAt.toISOString();
  const row = { subject, kind, due_at, detail_json: 'null', cancelled_at: null };
  await db
    .insertInto('reminder')
    .values({ workspace, key, ...row, fired_at: null })
    .onConflict((conflict) =>
      conflict.columns(['workspace', 'key']).doUpdateSet((eb) => ({
        ...row,
        fired_at: eb
          .case()
          .when('reminder.due_at', '=', due_at)
          .then(eb.ref('reminder.fired_at'))
          .else(null)
          .end(),
      })),
    )
    .execute();
}

/** Cancels whatever is still to come about one subject. */
export async function cancelReminders(db: Db, workspace: string, subject: string, at: Date): Promise<void> {
  await db
    .updateTable('reminder')
    .set({ cancelled_at: at.toISOString() })
    .where((eb) => eb.and({ workspace, subject, fired_at: null, cancelled_at: null }))
    .execute();
}

/** Reminders whose time has come, the oldest first. */
export async function listDue(db: Db, now: Date, limit: number): Promise<readonly Reminder[]> {
  const rows = await db
    .selectFrom('reminder')
    .select(['workspace', 'key', 'subject', 'kind', 'due_at'])
    .where((eb) => eb.and({ fired_at: null, cancelled_at: null }))
    .where('due_at', '<=', now.toISOString())
    .orderBy('due_at')
    .orderBy('key')
    .limit(limit)
    .execute();
  return rows.map(({ due_at, ...row }) => ({ ...row, dueAt: new Date(due_at) }));
}

/** Claims a due reminder for the transaction it is called in; false when it was fired, moved or cancelled meanwhile. */
export async function fireReminder(db: Db, { workspace, key, dueAt }: Reminder, at: Date): Promise<boolean> {
  const result = await db
    .updateTable('reminder')
    .set({ fired_at: at.toISOString() })
    .where((eb) =>
      eb.and({ workspace, key, due_at: dueAt.toISOString(), fired_at: null, cancelled_at: null }),
    )
    .executeTakeFirst();
  return result.numUpdatedRows === 1n;
}

/** When the next reminder is due, or null when none is set. */
export async function nextDue(db: Db): Promise<Date | null> {
  const row = await db
    .selectFrom('reminder')
    .select((eb) => eb.fn.min('due_at').as('due_at'))
    .where((eb) => eb.and({ fired_at: null, cancelled_at: null }))
    .executeTakeFirst();
  return row?.due_at ? new Date(row.due_at) : null;
}

/** Keys of all reminders ever set about a subject, or only of those whose time has come. */
export async function listReminderKeys(
  db: Db,
  workspace: string,
  subject: string,
  which: 'all' | 'fired' = 'all',
): Promise<readonly string[]> {
  let query = db
    .selectFrom('reminder')
    .select('key')
    .where((eb) => eb.and({ workspace, subject }));
  if (which === 'fired') query = query.where('fired_at', 'is not', null);
  return (await query.execute()).map(({ key }) => key);
}
