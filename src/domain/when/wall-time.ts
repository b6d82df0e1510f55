import { TZDate, tzOffset } from '@date-fns/tz';
import { type LocalDay, localDay } from './local-day.js';

/** An instant for a clock time on a day, and what the clocks did to it that day. */
export type WallTime = {
  readonly at: Date;
  /** `gap`: that time is skipped that day and the clock then shows later; `twice`: it comes twice, the first is taken. */
  readonly clockChange: 'gap' | 'twice' | null;
};

const MINUTE_MS = 60_000;
/** How far the clocks are put back, in minutes: an hour nearly everywhere, half an hour on one island group. */
const USUAL_CHANGES = [30, 60, 120];
/** More than a day, as an island once left a whole day out. */
const NEAR_MS = 26 * 60 * MINUTE_MS;

/**
 * The instant at which the house's clocks show a time on a day. A time that the clocks skip becomes the same
 * distance after the skip; of a time that comes twice, the first.
 *
 * @param minutes minutes since midnight on the clock face, 0..1439
 * @param zone IANA time zone name
 */
export function wallTime(day: LocalDay, minutes: number, zone: string): WallTime {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  const at = TZDate.tz(zone, year, month - 1, date, Math.floor(minutes / 60), minutes % 60).getTime();
  if (!clocksChangeNear(at, zone)) return { at: new Date(at), clockChange: null };
  if (!shows(at, day, minutes, zone)) return { at: new Date(at), clockChange: 'gap' };
  const twins = USUAL_CHANGES.flatMap((change) => [at - change * MINUTE_MS, at + change * MINUTE_MS]);
  const twin = twins.find((instant) => shows(instant, day, minutes, zone));
  if (twin === undefined) return { at: new Date(at), clockChange: null };
  return { at: new Date(Math.min(at, twin)), clockChange: 'twice' };
}

/** On most days they do not, and then nothing more need be asked of the calendar. */
function clocksChangeNear(at: number, zone: string): boolean {
  return tzOffset(zone, new Date(at - NEAR_MS)) !== tzOffset(zone, new Date(at + NEAR_MS));
}

/** Minutes since midnight that the house's clocks show at an instant. */
export function clockMinutes(instant: Date, zone: string): number {
  const there = TZDate.tz(zone, instant.getTime());
  return there.getHours() * 60 + there.getMinutes();
}

function shows(instant: number, day: LocalDay, minutes: number, zone: string): boolean {
  const date = new Date(instant);
  return localDay(date, zone) === day && clockMinutes(date, zone) === minutes;
}

/** Whether the runtime knows a time zone by this name. */
export function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

/** The time zone called by its name ("europe/lisbon") or by its city alone ("lisbon"); null when there is none. */
export function findTimeZone(words: string): string | null {
  const name = words.trim().replace(/\s+/gu, '_');
  const zones = Intl.supportedValuesOf('timeZone');
  const wanted = name.toLowerCase();
  const known =
    zones.find((zone) => zone.toLowerCase() === wanted) ??
    zones.find((zone) => zone.toLowerCase().endsWith(`/${wanted}`));
  return known ?? (isTimeZone(name) ? name : null);
}
