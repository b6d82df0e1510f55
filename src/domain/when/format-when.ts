import { TZDate, tz } from '@date-fns/tz';
import { format } from 'date-fns/format';
import { type LocalDay, localDay, midnight } from './local-day.js';

const utc = tz('UTC');

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
