import type { HouseFacts } from '../../domain/house/house-facts.js';
import { askReminders } from '../../domain/roast/reminders.js';
import { daysAfter, localDay } from '../../domain/when/local-day.js';
import { clockMinutes, wallTime } from '../../domain/when/wall-time.js';
import { listAskChanges } from '../../store/ask-history.js';
import { askSubject, type StoredAsk } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { cancelReminders, setReminder } from '../../store/reminders.js';

/** One moment of an ask's life: `kind` is what the reminder row and the notices know it by. */
type Moment = { readonly kind: string; readonly dueAt: Date };

const MORNING = 8 * 60;
const AFTERNOON = 15 * 60;
const EVENING = 19 * 60;
/** Days after the roast day until a roast that nobody reported counts as missed: our choice. */
const GIVE_UP_DAYS = 2;

/** Sets an ask's reminders to what its state now asks for; what no longer fits is cancelled. */
export async function syncAskReminders(
  db: DbOrTransaction,
  workspace: string,
  ask: StoredAsk,
  house: HouseFacts,
  now: Date,
): Promise<void> {
  const subject = askSubject(ask.id);
  await cancelReminders(db, workspace, subject, now);
  const changes = await listAskChanges(db, workspace, ask.id);
  const since = changes.findLast((change) => change.to === ask.state && change.from !== ask.state)?.at;
  for (const { kind, dueAt } of momentsOf(ask, since ?? ask.createdAt, house)) {
    await setReminder(db, { workspace, key: `ask ${ask.id} ${kind}`, subject, kind, dueAt, detail: null });
  }
}

/** The moments still ahead of an ask that has been in its state since `since`, at hours fit for people. */
function momentsOf(ask: StoredAsk, since: Date, house: HouseFacts): readonly Moment[] {
  const at = (days: number, minutes: number) =>
    wallTime(daysAfter(ask.roastDay, days), minutes, house.timeZone).at;
  const said = askReminders({ ...ask, askedAt: since }, house).map(({ key, dueAt }) => ({
    kind: `ask ${key.replace(`ask ${ask.id} `, '')}`,
    dueAt: decentHour(dueAt, house.timeZone),
  }));
  const own: readonly Moment[] =
    ask.state === 'accepted'
      ? [
          { kind: 'ask day before', dueAt: at(-1, AFTERNOON) },
          { kind: 'ask given up', dueAt: at(GIVE_UP_DAYS, MORNING) },
        ]
      : ask.state === 'asked' || ask.state === 'offered'
        ? [{ kind: 'ask lapsed', dueAt: at(1, MORNING) }]
        : [];
  const ahead = [...said, ...own].filter((moment) => moment.dueAt.getTime() > since.getTime());
  // One word before the roast is enough: the morning's is for those who accepted too late for the other.
  const early = ahead.some((moment) => moment.kind === 'ask day before');
  return ahead.filter((moment) => !early || moment.kind !== 'ask roast today');
}

/** Moved into waking hours: nobody is written to in the night. */
function decentHour(at: Date, zone: string): Date {
  const minutes = clockMinutes(at, zone);
  const day = localDay(at, zone);
  if (minutes < MORNING) return wallTime(day, MORNING, zone).at;
  return minutes > EVENING ? wallTime(daysAfter(day, 1), MORNING, zone).at : at;
}
