import type { AskState } from '../record/ask.js';
import type { TastingState } from '../record/tasting.js';
import { daysAfter, type LocalDay, localDay } from '../when/local-day.js';
import { wallTime } from '../when/wall-time.js';
import { cutOff, type RoastCalendar } from './roast-day.js';

/** What a reminder is about; the notice finds the words. */
export type ReminderKind =
  | 'ask unanswered'
  | 'roast today'
  | 'roast not recorded'
  | 'not ready'
  | 'set the table'
  | 'open the table'
  | 'table still open'
  | 'table undecided';

/** Something to come back to. `key` is its identity: the same thing due at another time moves it. */
export type DueReminder = {
  readonly key: string;
  readonly kind: ReminderKind;
  readonly dueAt: Date;
  readonly to: 'host' | 'roaster';
};

const HOUR_MS = 3_600_000;
const MORNING = 8 * 60;
const EVENING = 18 * 60;

/** What reminders of a roast ask depend on. */
export type AskToRemind = {
  readonly id: number;
  readonly state: AskState;
  readonly roastDay: LocalDay;
  readonly askedAt: Date;
};

/**
 * Reminders of a roast ask: a day after asking and again before the cut-off while unanswered; on the
 * morning of the roast day; that evening when no weight is recorded, to the roaster, and next morning to
 * the host, so that no lateness stays silent.
 */
export function askReminders(ask: AskToRemind, house: RoastCalendar): readonly DueReminder[] {
  const at = (day: LocalDay, minutes: number) => wallTime(day, minutes, house.timeZone).at;
  const key = (what: string) => `ask ${ask.id} ${what}`;
  if (ask.state === 'asked') {
    const lastCall = new Date(cutOff(ask.roastDay, house).getTime() - 3 * HOUR_MS);
    const nextDay = new Date(ask.askedAt.getTime() + 24 * HOUR_MS);
    const reminders: DueReminder[] = [
      { key: key('last call'), kind: 'ask unanswered', dueAt: lastCall, to: 'host' },
    ];
    if (nextDay < lastCall)
      reminders.unshift({ key: key('unanswered'), kind: 'ask unanswered', dueAt: nextDay, to: 'roaster' });
    return reminders;
  }
  if (ask.state !== 'accepted') return [];
  return [
    { key: key('roast today'), kind: 'roast today', dueAt: at(ask.roastDay, MORNING), to: 'roaster' },
    { key: key('not recorded'), kind: 'roast not recorded', dueAt: at(ask.roastDay, EVENING), to: 'roaster' },
    {
      key: key('late'),
      kind: 'roast not recorded',
      dueAt: at(daysAfter(ask.roastDay, 1), MORNING),
      to: 'host',
    },
  ];
}

/** What reminders of a tasting depend on. */
export type TastingToRemind = {
  readonly id: number;
  readonly state: TastingState;
  readonly startsAt: Date;
  readonly closedAt: Date | null;
};

/**
 * Reminders of a tasting to its host: two mornings before when it is not ready; an hour and a half before
 * the pour to set the table; at the start to open it; two hours on when it is still open; the next morning
 * when it is closed and undecided.
 */
export function tastingReminders(tasting: TastingToRemind, house: RoastCalendar): readonly DueReminder[] {
  const start = tasting.startsAt.getTime();
  const key = (what: string) => `tasting ${tasting.id} ${what}`;
  const remind = (what: string, kind: ReminderKind, dueAt: Date): DueReminder => ({
    key: key(what),
    kind,
    dueAt,
    to: 'host',
  });
  if (tasting.state === 'booked' || tasting.state === 'ready') {
    const day = daysAfter(localDay(tasting.startsAt, house.timeZone), -2);
    const early = wallTime(day, MORNING, house.timeZone).at;
    return [
      ...(tasting.state === 'booked' ? [remind('not ready', 'not ready', early)] : []),
      remind('set', 'set the table', new Date(start - 1.5 * HOUR_MS)),
      remind('open', 'open the table', tasting.startsAt),
    ];
  }
  if (tasting.state === 'open')
    return [remind('still open', 'table still open', new Date(start + 2 * HOUR_MS))];
  if (tasting.state !== 'closed' || tasting.closedAt === null) return [];
  const morning = wallTime(
    daysAfter(localDay(tasting.closedAt, house.timeZone), 1),
    MORNING,
    house.timeZone,
  ).at;
  return [remind('undecided', 'table undecided', morning)];
}

/** The reminders whose time has come, soonest first. */
export function dueReminders(reminders: readonly DueReminder[], now: Date): readonly DueReminder[] {
  return reminders
    .filter((reminder) => reminder.dueAt.getTime() <= now.getTime())
    .sort((a, b) => a.dueAt.getTime() - b.dueAt.getTime());
}
