import type { RestDays } from '../../domain/house/rest-window.js';
import type { FittingStart, RoastCalendar } from '../../domain/roast/roast-day.js';
import { daysAfter, daysBetween, type LocalDay, localDay, weekdayOf } from '../../domain/when/local-day.js';
import { clockMinutes, wallTime } from '../../domain/when/wall-time.js';

const MOST_DATES = 3;

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
  const weekend = isWeekend(tableDay);
  return Array.from({ length: rest.maxDays - rest.minDays + 1 }, (_, more) =>
    daysAfter(roastDay, rest.minDays + more),
  )
    .filter((day) => !house.closedDays.some((closed) => closed.day === day))
    .filter((day) => weekend || !isWeekend(day))
    .sort((a, b) => Math.abs(daysBetween(tableDay, a)) - Math.abs(daysBetween(tableDay, b)))
    .map((day) => ({ start: wallTime(day, minutes, house.timeZone).at, roastDay, favour: false }))
    .filter((date) => date.start.getTime() > now.getTime())
    .slice(0, MOST_DATES);
}

function isWeekend(day: LocalDay): boolean {
  return weekdayOf(day) === 0 || weekdayOf(day) === 6;
}
