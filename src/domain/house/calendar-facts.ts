import { plainList } from '../measure/plain-list.js';
import { formatShortDay } from '../when/format-when.js';
import { isLocalDay, WEEKDAY_NAMES } from '../when/local-day.js';
import { WEEKDAYS } from '../when/read-day.js';
import { isTimeZone } from '../when/wall-time.js';
import { changed, type FactEntry, unclear } from './fact-entry.js';

/** Facts about the calendar: time zone, roast days, closed days. */
export const CALENDAR_FACTS: readonly FactEntry[] = [
  {
    name: 'timeZone',
    label: 'time zone',
    alsoCalled: ['timezone', 'zone'],
    example: 'Europe/Lisbon',
    read: (words) => {
      const name = words.trim().replace(/\s+/gu, '_');
      const zones = Intl.supportedValuesOf('timeZone');
      const known = zones.find((zone) => zone.toLowerCase() === name.toLowerCase());
      const byCity = zones.filter((zone) => zone.toLowerCase().endsWith(`/${name.toLowerCase()}`));
      const zone = known ?? byCity[0] ?? (isTimeZone(name) ? name : undefined);
      return zone === undefined
        ? unclear(words, 'Give a place like Europe/Lisbon, or its city.')
        : changed({ timeZone: zone });
    },
    show: (house) => house.timeZone,
  },
  {
    name: 'roastDays',
    label: 'roast days',
    alsoCalled: ['roasting days', 'roast day'],
    example: 'tue thu',
    read: (words) => {
      const said = words
        .toLowerCase()
        .split(/[\s,/&+]+|\band\b/u)
        .filter((word) => word !== '');
      const days = said.map((word) => WEEKDAYS.get(word));
      const known = [...new Set(days.filter((day) => day !== undefined))].sort(
        (a, b) => ((a + 6) % 7) - ((b + 6) % 7),
      );
      if (known.length === 0 || days.includes(undefined))
        return unclear(words, 'Name weekdays, like tue thu.');
      return changed({ roastDays: known });
    },
    show: (house) => plainList(house.roastDays.map((day) => WEEKDAY_NAMES[day] ?? '')),
  },
  {
    name: 'closedDays',
    label: 'closed days',
    alsoCalled: ['closed', 'holidays', 'holiday'],
    example: '2026-12-25 Christmas, 2027-01-01 New Year',
    read: (words) => {
      if (/^(?:none|no)$/iu.test(words.trim())) return changed({ closedDays: [] });
      const entries = words.split(/[,;]/u).map((entry) => entry.trim());
      const days = entries.map((entry) => ({
        day: entry.slice(0, 10),
        name: entry.slice(10).trim() || 'closed',
      }));
      if (days.some((entry) => !isLocalDay(entry.day))) {
        return unclear(words, 'List days like 2026-12-25 Christmas, 2027-01-01 New Year, or say none.');
      }
      return changed({ closedDays: days.sort((a, b) => (a.day < b.day ? -1 : 1)) });
    },
    show: (house) =>
      house.closedDays.length === 0
        ? 'none'
        : house.closedDays.map((entry) => `${formatShortDay(entry.day)} (${entry.name})`).join(', '),
  },
];
