import type { AskState } from '../record/ask.js';
import { daysAfter, type LocalDay } from '../when/local-day.js';
import { wallTime } from '../when/wall-time.js';
import { cutOff, type RoastCalendar } from './roast-day.js';

/** What a reminder is about; the notice finds the words. */
type ReminderKind = 'ask unanswered' | 'roast today' | 'roast not recorded';

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
