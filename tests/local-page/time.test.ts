import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ago, dayHeading, instantOfWallTime, wallTime, writeDate } from '../../src/local/page/text/time.js';

const LISBON = 'Europe/Lisbon';

// Lisbon keeps UTC in winter and UTC+1 in summer; in 2026 the clocks change on 29 March and 25 October at 01:00 UTC
// (Directive 2000/84/EC, articles 2 and 3; IANA tz database, Europe/Lisbon).
describe('times on the page', () => {
  it('shows and reads a wall time in the person’s zone, on both sides of a clock change', () => {
    expect(wallTime(new Date('2026-10-24T13:00:00Z'), LISBON)).toBe('2026-10-24T14:00');
    expect(wallTime(new Date('2026-10-26T14:00:00Z'), LISBON)).toBe('2026-10-26T14:00');
    expect(instantOfWallTime('2026-10-24T14:00', LISBON)?.toISOString()).toBe('2026-10-24T13:00:00.000Z');
    expect(instantOfWallTime('2026-10-26T14:00', LISBON)?.toISOString()).toBe('2026-10-26T14:00:00.000Z');
    expect(instantOfWallTime('2026-03-29T02:30', LISBON)?.toISOString()).toBe('2026-03-29T01:30:00.000Z');
  });

  it('takes no nonsense for a time', () => {
    expect(instantOfWallTime('', LISBON)).toBe(null);
    expect(instantOfWallTime('soon', LISBON)).toBe(null);
  });

  it('reads back every wall time it shows', () => {
    const minutes = fc.integer({ min: Date.UTC(2026, 0, 1) / 60_000, max: Date.UTC(2028, 0, 1) / 60_000 });
    // The one hour a year that the clock shows twice has two instants for one wall time.
    const zones = fc.constantFrom(LISBON, 'America/Costa_Rica', 'Asia/Kolkata', 'Pacific/Auckland');
    fc.assert(
      fc.property(minutes, zones, (minute, zone) => {
        const shown = wallTime(new Date(minute * 60_000), zone);
        const read = instantOfWallTime(shown, zone);
        expect(read === null ? null : wallTime(read, zone)).toBe(shown);
      }),
    );
  });

  it('names the days around today', () => {
    const now = new Date('2026-11-27T23:30:00Z');
    expect(dayHeading(new Date('2026-11-27T00:10:00Z'), now, LISBON)).toBe('Today, Friday 27 November');
    expect(dayHeading(new Date('2026-11-26T23:59:00Z'), now, LISBON)).toBe('Yesterday, Thursday 26 November');
    expect(dayHeading(new Date('2026-11-24T12:00:00Z'), now, LISBON)).toBe('Tuesday 24 November');
  });

  it('writes out date tokens and keeps what it does not know', () => {
    const now = new Date('2026-11-26T10:00:00Z');
    const unix = Date.UTC(2026, 10, 27, 14, 0) / 1000;
    expect(writeDate('{date_short_pretty} at {time}', unix, now, LISBON)).toBe('tomorrow at 14:00');
    expect(writeDate('{date_num}, {date_long}', unix, now, LISBON)).toBe(
      '2026-11-27, Friday 27 November 2026',
    );
    expect(writeDate('{date} {moon}', unix, now, LISBON)).toBe('27 November 2026 {moon}');
    expect(writeDate('{ago}', unix, now, LISBON)).toBe('in 1 day');
  });

  it('says how long ago in the coarsest unit', () => {
    const now = new Date('2026-11-27T14:00:00Z');
    expect(ago(new Date('2026-11-27T13:48:00Z'), now)).toBe('12 minutes ago');
    expect(ago(new Date('2026-11-27T11:00:00Z'), now)).toBe('3 hours ago');
    expect(ago(new Date('2026-11-25T14:00:00Z'), now)).toBe('2 days ago');
  });
});
