import { daysAfter, formatDay, isLocalDay, type LocalDay, WEEKDAY_NAMES, weekdayOf } from './local-day.js';

/** Month numbers by name and usual short forms, 1 to 12. */
const MONTHS = namesOf(
  'january jan, february feb, march mar, april apr, may, june jun, july jul, august aug, september sept sep, ' +
    'october oct, november nov, december dec',
  1,
);

/** Weekday numbers by name and usual short forms, 0 for Sunday. */
export const WEEKDAYS = namesOf(
  'sunday sun sundays, monday mon mondays, tuesday tue tues tuesdays, wednesday wed weds wednesdays, ' +
    'thursday thu thur thurs thursdays, friday fri fridays, saturday sat saturdays',
  0,
);

/** Small numbers people write out: "in two days", "in a week". */
const SMALL_NUMBERS = namesOf('a an one, two, three, four, five, six, seven, eight, nine, ten', 1);

/** Numbers by name: commas part the numbers, which count up from `first`, and spaces the names of each. */
function namesOf(names: string, first: number): ReadonlyMap<string, number> {
  return new Map(
    names.split(', ').flatMap((row, index) => row.split(' ').map((name) => [name, index + first] as const)),
  );
}

/** A day read from the front of some words, and how many words it took. */
export type ReadDay =
  | {
      readonly kind: 'day';
      readonly day: LocalDay;
      readonly used: number;
      /** A bare weekday that is today's name: today or a week on, which the clock time decides. */
      readonly todayOrNextWeek: boolean;
    }
  | { readonly kind: 'impossible'; readonly used: number; readonly message: string };

/** Dates without a year that passed no longer ago than this are taken as a slip, not as next year's. */
const SLIP_DAYS = 60;

/**
 * Reads a day from the words at `at`: today, tomorrow, a weekday, "next tuesday", "27 nov", "nov 27th 2026",
 * "2026-11-27", "27.11.", "in 3 days", "friday week". Null when no day stands there.
 *
 * @param words lower-case words without commas
 * @param today the day in the house's time zone
 */
export function readDay(words: readonly string[], at: number, today: LocalDay): ReadDay | null {
  if (LEADING.has(words[at] ?? '')) {
    const later = readDay(words, at + 1, today);
    return later && { ...later, used: later.used + 1 };
  }
  return readRelative(words, at, today) ?? readWeekday(words, at, today) ?? readDate(words, at, today);
}

const LEADING = new Set(['on', 'by', 'for', 'until', 'before', 'the']);

function readRelative(words: readonly string[], at: number, today: LocalDay): ReadDay | null {
  const [first = '', second = '', third = ''] = words.slice(at, at + 3);
  if (first === 'today' || first === 'tonight') return found(today, 1);
  if (first === 'tomorrow' || first === 'tmrw' || first === 'tmr') return found(daysAfter(today, 1), 1);
  if (first === 'day' && second === 'after' && third.startsWith('tomorrow'))
    return found(daysAfter(today, 2), 3);
  if (first !== 'in') return null;
  const count = SMALL_NUMBERS.get(second) ?? (/^\d{1,3}$/u.test(second) ? Number(second) : null);
  if (count === null) return null;
  if (/^days?$/u.test(third)) return found(daysAfter(today, count), 3);
  if (/^weeks?$/u.test(third)) return found(daysAfter(today, count * 7), 3);
  return null;
}

function readWeekday(words: readonly string[], at: number, today: LocalDay): ReadDay | null {
  const [first = '', second = '', third = ''] = words.slice(at, at + 3);
  const plain = WEEKDAYS.get(first);
  if (plain !== undefined) {
    const dated = readDate(words, at + 1, today);
    if (dated) return agreeing(plain, dated);
    const ahead = (plain - weekdayOf(today) + 7) % 7;
    if (second === 'week') return found(daysAfter(today, (ahead || 7) + 7), 2);
    return { kind: 'day', day: daysAfter(today, ahead), used: 1, todayOrNextWeek: ahead === 0 };
  }
  const named = WEEKDAYS.get(second);
  if (first === 'next' && named !== undefined) {
    // The week after this one, weeks beginning on Monday.
    const sinceMonday = (weekdayOf(today) + 6) % 7;
    return found(daysAfter(today, 7 - sinceMonday + ((named + 6) % 7)), 2);
  }
  if (first === 'this' && named !== undefined) {
    const ahead = (named - weekdayOf(today) + 7) % 7;
    return { kind: 'day', day: daysAfter(today, ahead), used: 2, todayOrNextWeek: ahead === 0 };
  }
  const afterA = first === 'a' && second === 'week' ? third : '';
  return afterA === 'today' ? found(daysAfter(today, 7), 3) : null;
}

/** "Friday 27 November": the date holds, and the weekday has to be the one it falls on. */
function agreeing(weekday: number, dated: ReadDay): ReadDay {
  const used = dated.used + 1;
  if (dated.kind === 'impossible' || weekdayOf(dated.day) === weekday) return { ...dated, used };
  const message = `${formatDay(dated.day)} is no ${WEEKDAY_NAMES[weekday] ?? ''}. Which of the two did you mean?`;
  return { kind: 'impossible', used, message };
}

function readDate(words: readonly string[], at: number, today: LocalDay): ReadDay | null {
  const [first = '', second = '', third = ''] = words.slice(at, at + 3);
  if (/^\d{4}-\d{1,2}-\d{1,2}$/u.test(first)) {
    const [year = 0, month = 0, date = 0] = first.split('-').map(Number);
    return dated(year, month, date, 1, today);
  }
  const dotted = /^(\d{1,2})[./](\d{1,2})(?:[./](\d{4})?)?$/u.exec(first);
  if (dotted && (first.includes('/') || /^\d+\.\d+\./u.test(first))) {
    const year = dotted[3] === undefined ? null : Number(dotted[3]);
    return dated(year, Number(dotted[2]), Number(dotted[1]), 1, today);
  }
  const dayFirst = MONTHS.has(second);
  const month = MONTHS.get(dayFirst ? second : first);
  const date = /^(\d{1,2})(?:st|nd|rd|th)?$/u.exec(dayFirst ? first : second);
  if (month === undefined || !date) return null;
  const year = /^20\d{2}$/u.test(third) ? Number(third) : null;
  return dated(year, month, Number(date[1]), year === null ? 2 : 3, today);
}

function dated(year: number | null, month: number, date: number, used: number, today: LocalDay): ReadDay {
  const day = (of: number) => `${of}-${String(month).padStart(2, '0')}-${String(date).padStart(2, '0')}`;
  const thisYear = Number(today.slice(0, 4));
  if (year !== null) return checked(day(year), used);
  // 29 February waits for the next leap year.
  const wanted = Array.from({ length: 9 }, (_, ahead) => day(thisYear + ahead)).filter(isLocalDay);
  const coming = wanted.find((candidate) => candidate >= daysAfter(today, -SLIP_DAYS));
  return checked(coming ?? day(thisYear), used);
}

function checked(day: LocalDay, used: number): ReadDay {
  if (isLocalDay(day)) return found(day, used);
  return { kind: 'impossible', used, message: `There is no ${day} in the calendar.` };
}

function found(day: LocalDay, used: number): ReadDay {
  return { kind: 'day', day, used, todayOrNextWeek: false };
}
