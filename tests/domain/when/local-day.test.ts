import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  daysAfter,
  daysBetween,
  formatDay,
  formatShortDay,
  isLocalDay,
  localDay,
  weekdayOf,
} from '../../../src/domain/when/local-day.js';
import { clockMinutes, isTimeZone, wallTime } from '../../../src/domain/when/wall-time.js';

test('days are those of the house', () => {
  const instant = new Date('2026-11-25T23:30:00Z');
  expect(localDay(instant, 'Europe/Lisbon')).toBe('2026-11-25');
  expect(localDay(instant, 'Pacific/Auckland')).toBe('2026-11-26');
  expect(localDay(instant, 'America/Lima')).toBe('2026-11-25');
});

test('counting days crosses years and leap days', () => {
  expect(daysAfter('2026-12-31', 1)).toBe('2027-01-01');
  expect(daysAfter('2028-02-28', 1)).toBe('2028-02-29');
  expect(daysAfter('2027-03-01', -1)).toBe('2027-02-28');
  expect(daysBetween('2026-12-30', '2027-01-02')).toBe(3);
  expect(weekdayOf('2026-11-25')).toBe(3);
});

test('going there and back is where one was', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 20_000 }), fc.integer({ min: -800, max: 800 }), (start, count) => {
      const day = daysAfter('2000-01-01', start);
      expect(daysAfter(daysAfter(day, count), -count)).toBe(day);
      expect(daysBetween(day, daysAfter(day, count))).toBe(count);
    }),
  );
});

test('a clock time shows that time on that day, or the clocks changed', () => {
  const zones = fc.constantFrom(
    'Europe/Lisbon',
    'America/Santiago',
    'Australia/Lord_Howe',
    'Asia/Kathmandu',
    'Africa/Cairo',
  );
  fc.assert(
    fc.property(
      zones,
      fc.integer({ min: 0, max: 3000 }),
      fc.integer({ min: 0, max: 1439 }),
      (zone, ahead, minutes) => {
        const day = daysAfter('2024-01-01', ahead);
        const { at, clockChange } = wallTime(day, minutes, zone);
        if (clockChange === 'gap') expect(clockMinutes(at, zone)).not.toBe(minutes);
        else expect([localDay(at, zone), clockMinutes(at, zone)]).toEqual([day, minutes]);
      },
    ),
  );
});

test('days that do not exist are none', () => {
  expect(isLocalDay('2026-02-29')).toBe(false);
  expect(isLocalDay('2028-02-29')).toBe(true);
  expect(isLocalDay('2026-13-01')).toBe(false);
  expect(isLocalDay('tomorrow')).toBe(false);
});

test('time zones are those the runtime knows', () => {
  expect(isTimeZone('Europe/Lisbon')).toBe(true);
  expect(isTimeZone('Europe/Nowhere')).toBe(false);
});

test('days are written short and long', () => {
  expect(formatDay('2026-11-27')).toBe('Friday 27 November');
  expect(formatDay('2027-01-05', '2026-11-27')).toBe('Tuesday 5 January 2027');
  expect(formatShortDay('2026-11-27')).toBe('Fri 27 Nov');
});
