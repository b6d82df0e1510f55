import type { AskState } from '../record/ask.js';
import { daysAfter, type LocalDay, localDay } from '../when/local-day.js';
import { clockMinutes, wallTime } from '../when/wall-time.js';
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
const AFTERNOON = 15 * 60;
const EVENING = 18 * 60;
/** Nobody is written to later than this, nor before the morning. */
const NIGHT = 19 * 60;
/** Days after the roast day until a roast that nobody reported counts as missed: our choice. */
const GIVE_UP_DAYS = 2;

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

/** One moment of an ask's life: `kind` is what its reminder and the notices know it by. */
export type AskMoment = { readonly kind: string; readonly dueAt: Date };

/** The moments still ahead of an ask that has been in its state since `askedAt`, at hours fit for people. */
export function askMoments(ask: AskToRemind, house: RoastCalendar): readonly AskMoment[] {
  const at = (days: number, minutes: number) =>
    wallTime(daysAfter(ask.roastDay, days), minutes, house.timeZone).at;
  const said = askReminders(ask, house).map(({ key, dueAt }) => ({
    kind: `ask ${key.replace(`ask ${ask.id} `, '')}`,
    dueAt: decentHour(dueAt, house.timeZone),
  }));
  const own: readonly AskMoment[] =
    ask.state === 'accepted'
      ? [
          { kind: 'ask day before', dueAt: at(-1, AFTERNOON) },
          { kind: 'ask given up', dueAt: at(GIVE_UP_DAYS, MORNING) },
        ]
      : ask.state === 'asked' || ask.state === 'offered'
        ? [{ kind: 'ask lapsed', dueAt: at(1, MORNING) }]
        : [];
  const ahead = [...said, ...own].filter((moment) => moment.dueAt.getTime() > ask.askedAt.getTime());
  // One word before the roast is enough: the morning's is for those who accepted too late for the other.
  const early = ahead.some((moment) => moment.kind === 'ask day before');
  return ahead.filter((moment) => !early || moment.kind !== 'ask roast today');
}

/** Moved into waking hours: nobody is written to in the night. */
function decentHour(at: Date, zone: string): Date {
  const minutes = clockMinutes(at, zone);
  const day = localDay(at, zone);
  if (minutes < MORNING) return wallTime(day, MORNING, zone).at;
  return minutes > NIGHT ? wallTime(daysAfter(day, 1), MORNING, zone).at : at;
}
