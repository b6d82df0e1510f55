import { counted, plainList } from '../measure/plain-list.js';
import { daysBetween, type LocalDay } from '../when/local-day.js';

/** A coffee on the table and the days on which its grams were roasted. */
export type RoastDays = { readonly coffeeId: number; readonly days: readonly LocalDay[] };

/** Components of one table within 24 hours of each other in roast age: a choice of ours, no source. */
const MOST_APART_DAYS = 1;

/**
 * A remark when the coffees of a table were roasted more than a day apart, oldest first; null when their ages
 * are alike or fewer than two are known.
 */
export function roastAgesRemark(
  coffees: readonly (RoastDays & { readonly name: string })[],
  tableDay: LocalDay,
): string | null {
  const ages = coffees.flatMap(({ name, days }) => {
    const [oldest] = [...days].sort();
    return oldest === undefined ? [] : [{ name, days: daysBetween(oldest, tableDay) }];
  });
  const apart = Math.max(...ages.map(({ days }) => days)) - Math.min(...ages.map(({ days }) => days));
  if (ages.length < 2 || apart <= MOST_APART_DAYS) return null;
  const listed = [...ages]
    .sort((a, b) => b.days - a.days)
    .map((age) => `${age.name} ${counted(age.days, 'day')}`);
  return `Roast ages differ: ${plainList(listed)} off the roast. Part of what sets these cups apart may be their age.`;
}
