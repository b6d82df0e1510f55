import { tzOffset } from '../vendor/tz-offset.js';

const LOCALE = 'en-GB';

function format(at: Date, timeZone: string, options: Intl.DateTimeFormatOptions): string {
  // Without commas: whether a weekday has one differs between browsers.
  return new Intl.DateTimeFormat(LOCALE, { ...options, timeZone }).format(at).replaceAll(',', '');
}

/** The instant a message was written, from its ts. */
export function instantOf(ts: string): Date {
  return new Date(Number(ts.split('.')[0]) * 1000);
}

export function clockTime(at: Date, timeZone: string): string {
  return format(at, timeZone, { hour: '2-digit', minute: '2-digit' });
}

/** "Wed 25 Nov": short enough for the top bar of a phone. */
export function shortDay(at: Date, timeZone: string): string {
  return format(at, timeZone, { weekday: 'short', day: 'numeric', month: 'short' });
}

/** The day heading over messages: "Today", "Yesterday" or the whole date. */
export function dayHeading(at: Date, now: Date, timeZone: string): string {
  const near = nearbyDay(at, now, timeZone);
  const whole = format(at, timeZone, { weekday: 'long', day: 'numeric', month: 'long' });
  return near === null ? whole : `${capital(near)}, ${whole}`;
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}

/** Calendar day in the zone, as YYYY-MM-DD. */
export function dayOf(at: Date, timeZone: string): string {
  return wallTime(at, timeZone).slice(0, 10);
}

function nearbyDay(at: Date, now: Date, timeZone: string): string | null {
  const days = (Date.parse(dayOf(at, timeZone)) - Date.parse(dayOf(now, timeZone))) / 86_400_000;
  return (
    new Map([
      [-1, 'yesterday'],
      [0, 'today'],
      [1, 'tomorrow'],
    ]).get(days) ?? null
  );
}

/** Wall-clock time in the zone, as a datetime-local input wants it: YYYY-MM-DDTHH:mm. */
export function wallTime(at: Date, timeZone: string): string {
  return new Date(at.getTime() + tzOffset(timeZone, at) * 60_000).toISOString().slice(0, 16);
}

/** The instant of a wall-clock time in the zone; null when the text is no time. */
export function instantOfWallTime(text: string, timeZone: string): Date | null {
  const asUtc = Date.parse(`${text}Z`);
  if (Number.isNaN(asUtc)) return null;
  // Two passes: the offset must be the one that holds at the answer, not at the first guess.
  const guess = new Date(asUtc - tzOffset(timeZone, new Date(asUtc)) * 60_000);
  return new Date(asUtc - tzOffset(timeZone, guess) * 60_000);
}

/** A <!date> written out for a reader in this zone. */
export function writeDate(pattern: string, unix: number, now: Date, timeZone: string): string {
  const at = new Date(unix * 1000);
  return pattern.replace(/\{(\w+)\}/g, (token, name: string) => dateToken(name, at, now, timeZone) ?? token);
}

const LONG_DAY: Intl.DateTimeFormatOptions = {
  weekday: 'long',
  day: 'numeric',
  month: 'long',
  year: 'numeric',
};
const DAY: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'long', year: 'numeric' };
const SHORT_DAY: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'short', year: 'numeric' };

function dateToken(name: string, at: Date, now: Date, timeZone: string): string | null {
  const pretty = name.endsWith('_pretty') ? nearbyDay(at, now, timeZone) : null;
  if (pretty !== null) return pretty;
  switch (name.replace('_pretty', '')) {
    case 'date_num':
      return dayOf(at, timeZone);
    case 'date':
      return format(at, timeZone, DAY);
    case 'date_short':
      return format(at, timeZone, SHORT_DAY);
    case 'date_long':
      return format(at, timeZone, LONG_DAY);
    case 'time':
      return clockTime(at, timeZone);
    case 'time_secs':
      return format(at, timeZone, { hour: '2-digit', minute: '2-digit', second: '2-digit' });
    case 'ago':
      return ago(at, now);
    default:
      return null;
  }
}

/** "3 hours ago", "in 2 days": the coarsest unit that is not zero. */
export function ago(at: Date, now: Date): string {
  const seconds = Math.round((at.getTime() - now.getTime()) / 1000);
  const relative = new Intl.RelativeTimeFormat(LOCALE, { numeric: 'always' });
  if (Math.abs(seconds) < 60) return 'just now';
  if (Math.abs(seconds) >= 86_400) return relative.format(Math.round(seconds / 86_400), 'day');
  if (Math.abs(seconds) >= 3_600) return relative.format(Math.round(seconds / 3_600), 'hour');
  return relative.format(Math.round(seconds / 60), 'minute');
}
