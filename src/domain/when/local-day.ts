import { TZDate, tz } from '@date-fns/tz';
import { differenceInCalendarDays } from 'date-fns/differenceInCalendarDays';
import { format } from 'date-fns/format';
import { isValid } from 'date-fns/isValid';

/** A calendar day without a clock or a zone: 'YYYY-MM-DD'. Text order is time order. */
export type LocalDay = string;

/** Full names of the weekdays as JavaScript counts them: 0 is Sunday, 6 is Saturday. */
export const WEEKDAY_NAMES = [
  'Sunday',
  'Monday',
  'Tuesday',
  'Wednesday',
  'Thursday',
  'Friday',
  'Saturday',
] as const;

// Days are counted in UTC, where every day has 24 hours, so no clock change can shift one.
const utc = tz('UTC');
const DAY_MS = 24 * 60 * 60 * 1000;

/** Whether the text is a day that exists: '2026-02-29' is none. */
export function isLocalDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/u.test(text)) return false;
  const date = new Date(`${text}T00:00:00Z`);
  return isValid(date) && date.toISOString().startsWith(text);
}

/** The day that the house's calendar shows at an instant. */
export function localDay(instant: Date, zone: string): LocalDay {
  return TZDate.tz(zone, instant.getTime()).toISOString().slice(0, 10);
}

/** The day `count` days later (earlier when negative). */
export function daysAfter(day: LocalDay, count: number): LocalDay {
  return new Date(midnight(day).getTime() + count * DAY_MS).toISOString().slice(0, 10);
}

/** Calendar days from one day to another: 0 for the same day, negative when `to` comes first. */
export function daysBetween(from: LocalDay, to: LocalDay): number {
  return differenceInCalendarDays(midnight(to), midnight(from), { in: utc });
}

/** The day of the week, 0 for Sunday. */
export function weekdayOf(day: LocalDay): number {
  return midnight(day).getUTCDay();
}

/** The day as a date-fns date in UTC, for formatting. */
function midnight(day: LocalDay): Date {
  return new Date(`${day}T00:00:00Z`);
}

/** "Friday 27 November"; with the year when it is not the year of `today`. */
export function formatDay(day: LocalDay, today?: LocalDay): string {
  const otherYear = today !== undefined && today.slice(0, 4) !== day.slice(0, 4);
  return format(midnight(day), otherYear ? 'EEEE d MMMM yyyy' : 'EEEE d MMMM', { in: utc });
}

/** "Fri 27 Nov", for lists and buttons. */
export function formatShortDay(day: LocalDay): string {
  return format(midnight(day), 'EEE d MMM', { in: utc });
}

/** "14:00" on the house's clocks. */
export function formatTime(instant: Date, zone: string): string {
  return format(TZDate.tz(zone, instant.getTime()), 'HH:mm');
}

/** "Friday 27 November, 14:00"; with the year when it is not this year (seen from `now`). */
export function formatWhen(instant: Date, zone: string, now?: Date): string {
  const today = now === undefined ? undefined : localDay(now, zone);
  return `${formatDay(localDay(instant, zone), today)}, ${formatTime(instant, zone)}`;
}
