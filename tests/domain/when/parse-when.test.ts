import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatWhen } from '../../../src/domain/when/local-day.js';
import { findWhen, parseDay, parseWhen } from '../../../src/domain/when/parse-when.js';

const LISBON = 'Europe/Lisbon';
/** A Wednesday, 10:00 in Lisbon, which is on UTC in winter. */
const WEDNESDAY = new Date('2026-11-25T10:00:00Z');

describe('reading a day and a time', () => {
  test.each([
    ['fri 14:00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['Friday 2pm', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['on friday at 14', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['14:00 fri', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['tomorrow 2pm', '2026-11-26T14:00:00Z', 'Thursday 26 November, 14:00'],
    ['tomorrow 2:30 pm', '2026-11-26T14:30:00Z', 'Thursday 26 November, 14:30'],
    ['tomorrow noon', '2026-11-26T12:00:00Z', 'Thursday 26 November, 12:00'],
    ['next tuesday 9:30', '2026-12-01T09:30:00Z', 'Tuesday 1 December, 09:30'],
    ['this friday 14h30', '2026-11-27T14:30:00Z', 'Friday 27 November, 14:30'],
    ['friday week 14:00', '2026-12-04T14:00:00Z', 'Friday 4 December, 14:00'],
    ['27 nov 14:00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['nov 27 14:00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['27th November 2026 14.00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['2026-11-27 14:00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['27/11 14:00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['27.11. 14:00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['in 3 days 14:00', '2026-11-28T14:00:00Z', 'Saturday 28 November, 14:00'],
    ['in a week 14:00', '2026-12-02T14:00:00Z', 'Wednesday 2 December, 14:00'],
    ['in two weeks at 9am', '2026-12-09T09:00:00Z', 'Wednesday 9 December, 09:00'],
    ['day after tomorrow 11:00', '2026-11-27T11:00:00Z', 'Friday 27 November, 11:00'],
    ['14:00', '2026-11-25T14:00:00Z', 'Wednesday 25 November, 14:00'],
    ['wed 14:00', '2026-11-25T14:00:00Z', 'Wednesday 25 November, 14:00'],
    ['wed 09:00', '2026-12-02T09:00:00Z', 'Wednesday 2 December, 09:00'],
    ['5 jan 14:00', '2027-01-05T14:00:00Z', 'Tuesday 5 January 2027, 14:00'],
    ['Fri, 27 Nov, 14:00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['Fri. 27 Nov. 14:00', '2026-11-27T14:00:00Z', 'Friday 27 November, 14:00'],
    ['friday at 10 o’clock', '2026-11-27T10:00:00Z', 'Friday 27 November, 10:00'],
    ['12am tomorrow', '2026-11-26T00:00:00Z', 'Thursday 26 November, 00:00'],
    ['29 feb 14:00', '2028-02-29T14:00:00Z', 'Tuesday 29 February 2028, 14:00'],
  ])('%s', (text, instant, echo) => {
    expect(parseWhen(text, WEDNESDAY, LISBON)).toEqual({ ok: true, at: new Date(instant), echo, note: null });
  });

  test('what is said back can be typed again, at any time of the coming year', () => {
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 500_000 }), (minutes) => {
        const at = new Date(WEDNESDAY.getTime() + minutes * 60_000);
        const again = parseWhen(formatWhen(at, LISBON, WEDNESDAY), WEDNESDAY, LISBON);
        // Of an hour that comes twice in October the first is taken.
        const first = new Date(at.getTime() - 3_600_000);
        expect([at, first]).toContainEqual(again.ok ? again.at : again.message);
      }),
    );
  });

  test('2:30 without am or pm is the afternoon, and that is said', () => {
    expect(parseWhen('fri 2:30', WEDNESDAY, LISBON)).toMatchObject({
      at: new Date('2026-11-27T14:30:00Z'),
      note: 'I took that as the afternoon, 14:30.',
    });
  });

  test.each([
    ['fri', 'Friday 27 November, at what time?'],
    ['today 09:00', 'Wednesday 25 November, 09:00 is past.'],
    ['24 nov 14:00', 'Tuesday 24 November, 14:00 is past.'],
    ['2026-11-20 14:00', 'is past'],
    ['2026-02-30 14:00', 'There is no 2026-02-30 in the calendar.'],
    ['31 nov 14:00', 'There is no'],
    ['fri 25:00', 'at what time?'],
    ['whenever you like', 'could not read “whenever you like”'],
    ['', 'could not read'],
    ['thursday 27 november 14:00', 'Friday 27 November is no Thursday. Which of the two did you mean?'],
    ['fri 14:00 sharp', 'not “sharp”'],
  ])('“%s” is refused kindly', (text, why) => {
    expect(parseWhen(text, WEDNESDAY, LISBON)).toMatchObject({
      ok: false,
      message: expect.stringContaining(why),
    });
  });

  test('is found among the words of a booking, whose ratios are no times', () => {
    const words = ['Harbour Lamp', 'fri', '14:00', 'ratios', '50/30/20', '2:1:1', 'with', '@noor'];
    expect(findWhen(words, WEDNESDAY, LISBON)).toMatchObject({
      when: { ok: true, echo: 'Friday 27 November, 14:00' },
      rest: ['Harbour Lamp', 'ratios', '50/30/20', '2:1:1', 'with', '@noor'],
    });
    expect(findWhen(['Harbour Lamp', 'ratios', '50/30/20', '2:1:1'], WEDNESDAY, LISBON)).toBeNull();
    expect(findWhen(['ratios', '60/30/10'], WEDNESDAY, LISBON)).toBeNull();
  });

  test('follows the house, not the machine: late evening in Lisbon is tomorrow elsewhere', () => {
    const lateThursday = new Date('2026-11-26T23:30:00Z');
    expect(parseWhen('tomorrow 14:00', lateThursday, LISBON)).toMatchObject({
      echo: 'Friday 27 November, 14:00',
    });
    expect(parseWhen('tomorrow 14:00', lateThursday, 'Pacific/Auckland')).toMatchObject({
      echo: 'Saturday 28 November, 14:00',
      at: new Date('2026-11-28T01:00:00Z'),
    });
  });
});

// The European Union's summer time begins and ends at 01:00 UTC on the last Sunday of March and of October
// (Directive 2000/84/EC): in Lisbon on 28 March 2027 and 31 October 2027.
describe('across a clock change', () => {
  test('a booking at 14:00 is 14:00 on the clock after the change, too', () => {
    const saturday = new Date('2027-03-27T10:00:00Z');
    expect(parseWhen('mon 14:00', saturday, LISBON)).toMatchObject({ at: new Date('2027-03-29T13:00:00Z') });
    expect(parseWhen('in 2 days 14:00', saturday, LISBON)).toMatchObject({
      at: new Date('2027-03-29T13:00:00Z'),
      echo: 'Monday 29 March, 14:00',
    });
  });

  test('a time that the clocks skip is moved on and said', () => {
    expect(parseWhen('28 mar 2027 01:30', WEDNESDAY, LISBON)).toEqual({
      ok: true,
      at: new Date('2027-03-28T01:30:00Z'),
      echo: 'Sunday 28 March 2027, 02:30',
      note: 'The clocks go forward then and skip that time, so I took 02:30.',
    });
  });

  test('of a time that comes twice the first is taken and said', () => {
    expect(parseWhen('31 oct 2027 01:30', WEDNESDAY, LISBON)).toMatchObject({
      at: new Date('2027-10-31T00:30:00Z'),
      note: 'The clocks go back then and 01:30 comes twice, so I took the first.',
    });
  });

  // Lord Howe Island moves its clocks by half an hour, at 02:00 on the first Sunday of April (tz database).
  test('also where the clocks move by half an hour', () => {
    expect(parseWhen('4 apr 2027 at 01:45', WEDNESDAY, 'Australia/Lord_Howe')).toMatchObject({
      at: new Date('2027-04-03T14:45:00Z'),
      note: expect.stringContaining('comes twice'),
    });
  });
});

describe('reading a day', () => {
  test.each([
    ['by thu', '2026-11-26'],
    ['thu', '2026-11-26'],
    ['by tomorrow', '2026-11-26'],
    ['tuesday', '2026-12-01'],
    ['wed', '2026-12-02'],
    ['1 dec', '2026-12-01'],
    ['by the 1st dec', '2026-12-01'],
    ['today', '2026-11-25'],
  ])('%s', (text, day) => {
    expect(parseDay(text, WEDNESDAY, LISBON)).toMatchObject({ ok: true, day });
  });

  test('at the end of the year the echo names the new one', () => {
    expect(parseDay('in 6 weeks', WEDNESDAY, LISBON)).toEqual({
      ok: true,
      day: '2027-01-06',
      echo: 'Wednesday 6 January 2027',
    });
  });

  test.each(['soon', 'thu 14:00', '2026-11-20', '31 nov'])('“%s” is refused kindly', (text) => {
    expect(parseDay(text, WEDNESDAY, LISBON)).toMatchObject({
      ok: false,
      message: expect.stringContaining('27 nov'),
    });
  });
});
