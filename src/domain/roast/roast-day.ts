import type { HouseFacts } from '../house/house-facts.js';
import type { RestDays } from '../house/rest-window.js';
import { counted } from '../measure/plain-list.js';
import { daysAfter, daysBetween, formatDay, type LocalDay, localDay, weekdayOf } from '../when/local-day.js';
import { clockMinutes, wallTime } from '../when/wall-time.js';

/** House facts a roast day depends on. */
export type RoastCalendar = Pick<
  HouseFacts,
  'timeZone' | 'roastDays' | 'closedDays' | 'cutOffHour' | 'noticeDays'
>;

/** A roast day for a tasting, and why it is that one. */
export type RoastDay = {
  readonly day: LocalDay;
  /** Calendar days from today to the roast day. */
  readonly noticeDays: number;
  /** Shorter notice than the house asks for. */
  readonly favour: boolean;
  /** Days of rest it leaves before the table. */
  readonly restDays: number;
  readonly reason: string;
};

/** A time for the tasting at which every roast fits. */
export type FittingStart = { readonly start: Date; readonly roastDay: LocalDay; readonly favour: boolean };

/** A roast day, or why none fits. */
export type ChosenRoastDay =
  | { readonly ok: true; readonly roastDay: RoastDay }
  | { readonly ok: false; readonly message: string };

/** How far from the wanted day other tasting days are looked for. */
const LOOK_DAYS = 60;
/** Other starts that are offered. */
const MOST_STARTS = 3;

/**
 * The latest roast day whose rest is over by the start and not past its longest, that can still be joined; or
 * why there is none, and then `nearestStarts` knows when there would be.
 */
export function chooseRoastDay(now: Date, start: Date, rest: RestDays, house: RoastCalendar): ChosenRoastDay {
  const roastDay = latestRoastDay(now, start, rest, house, joining(now, house));
  if (roastDay) return { ok: true, roastDay };
  const tableDay = localDay(start, house.timeZone);
  const today = localDay(now, house.timeZone);
  const words = `${rest.minDays} to ${counted(rest.maxDays, 'day')} of rest`;
  const message = `No roast day leaves ${words} before ${formatDay(tableDay, today)}.`;
  return { ok: false, message };
}

/** The latest fitting roast day, or null. */
function latestRoastDay(
  now: Date,
  start: Date,
  rest: RestDays,
  house: RoastCalendar,
  fits: (day: LocalDay) => boolean,
): RoastDay | null {
  const tableDay = localDay(start, house.timeZone);
  const today = localDay(now, house.timeZone);
  for (let restDays = rest.minDays; restDays <= rest.maxDays; restDays += 1) {
    const day = daysAfter(tableDay, -restDays);
    if (day < today) return null;
    if (!fits(day)) continue;
    const noticeDays = daysBetween(today, day);
    const favour = noticeDays < house.noticeDays;
    const chosen = { day, noticeDays, favour, restDays };
    return { ...chosen, reason: reasonFor(chosen, today, rest, house) };
  }
  return null;
}

/** Whether a day is a roast day that can still be joined; each day is worked out once. */
function joining(now: Date, house: RoastCalendar): (day: LocalDay) => boolean {
  const known = new Map<LocalDay, boolean>();
  return (day) => {
    const fits = known.get(day) ?? (isRoastDay(day, house) && canJoin(day, now, house));
    known.set(day, fits);
    return fits;
  };
}

/**
 * Up to three starts nearest to the wanted one, at the same clock time, at which every rest fits a roast
 * day. Closed days are left out, and weekends too unless the wanted day lies on one.
 */
export function nearestStarts(
  now: Date,
  start: Date,
  rests: readonly RestDays[],
  house: RoastCalendar,
): readonly FittingStart[] {
  const tableDay = localDay(start, house.timeZone);
  const minutes = clockMinutes(start, house.timeZone);
  const fits = joining(now, house);
  const found: FittingStart[] = [];
  for (let away = 1; away <= LOOK_DAYS && found.length < MOST_STARTS; away += 1) {
    for (const day of [daysAfter(tableDay, away), daysAfter(tableDay, -away)]) {
      if (isClosed(day, house) || (isWeekend(day) && !isWeekend(tableDay))) continue;
      const at = wallTime(day, minutes, house.timeZone).at;
      if (at.getTime() <= now.getTime()) continue;
      const roasts = rests.map((rest) => latestRoastDay(now, at, rest, house, fits));
      const first = roasts.reduce((a, b) => (a && b && b.day < a.day ? b : a && b && a), roasts[0] ?? null);
      if (first && found.length < MOST_STARTS)
        found.push({ start: at, roastDay: first.day, favour: first.favour });
    }
  }
  return found;
}

/**
 * Starts at the same clock time at which a roast on a given day is rested and not too old, nearest to the
 * booked start first. Closed days are left out, and weekends unless the tasting lies on one.
 */
export function startsForRoast(
  roastDay: LocalDay,
  start: Date,
  rest: RestDays,
  house: RoastCalendar,
  now: Date,
): readonly FittingStart[] {
  const tableDay = localDay(start, house.timeZone);
  const minutes = clockMinutes(start, house.timeZone);
  return Array.from({ length: rest.maxDays - rest.minDays + 1 }, (_, more) =>
    daysAfter(roastDay, rest.minDays + more),
  )
    .filter((day) => !isClosed(day, house) && (isWeekend(tableDay) || !isWeekend(day)))
    .sort((a, b) => Math.abs(daysBetween(tableDay, a)) - Math.abs(daysBetween(tableDay, b)))
    .map((day) => ({ start: wallTime(day, minutes, house.timeZone).at, roastDay, favour: false }))
    .filter((date) => date.start.getTime() > now.getTime())
    .slice(0, MOST_STARTS);
}

/** The house's calendar without the days on which a roast was refused. */
export function withoutDays<C extends RoastCalendar>(house: C, days: Iterable<LocalDay>): C {
  const closed = [...days].map((day) => ({ day, name: 'refused' }));
  return { ...house, closedDays: [...house.closedDays, ...closed] };
}

/** Whether the house roasts on that day. */
export function isRoastDay(day: LocalDay, house: RoastCalendar): boolean {
  return house.roastDays.includes(weekdayOf(day)) && !isClosed(day, house);
}

/** The instant until which an ask can join a roast day: the cut-off hour of the day before. */
export function cutOff(day: LocalDay, house: RoastCalendar): Date {
  return wallTime(daysAfter(day, -1), house.cutOffHour * 60, house.timeZone).at;
}

/** Whether an ask made now can still join a roast day. */
export function canJoin(day: LocalDay, now: Date, house: RoastCalendar): boolean {
  return now.getTime() <= cutOff(day, house).getTime();
}

/** The roast days that can still be joined, soonest first. */
export function comingRoastDays(now: Date, house: RoastCalendar, count: number): readonly LocalDay[] {
  const today = localDay(now, house.timeZone);
  const days = Array.from({ length: LOOK_DAYS }, (_, ahead) => daysAfter(today, ahead));
  return days.filter((day) => isRoastDay(day, house) && canJoin(day, now, house)).slice(0, count);
}

function isClosed(day: LocalDay, house: RoastCalendar): boolean {
  return house.closedDays.some((closed) => closed.day === day);
}

function isWeekend(day: LocalDay): boolean {
  return weekdayOf(day) === 0 || weekdayOf(day) === 6;
}

function reasonFor(
  { day, restDays, noticeDays, favour }: Omit<RoastDay, 'reason'>,
  today: LocalDay,
  rest: RestDays,
  house: RoastCalendar,
): string {
  const why = `${formatDay(day, today)} is the latest roast day that leaves ${counted(rest.minDays, 'day')} of rest or more; it leaves ${restDays}.`;
  if (!favour) return why;
  const notice = noticeDays === 0 ? 'It is today' : `That is ${counted(noticeDays, 'day')} from now`;
  return `${why} ${notice}, under the usual ${house.noticeDays}, so this is a favour.`;
}
