import { describe, expect, test } from 'vitest';
import {
  canJoin,
  chooseRoastDay,
  comingRoastDays,
  cutOff,
  nearestStarts,
} from '../../../src/domain/roast/roast-day.js';
import { FERNHOLLOW } from '../table/harbour-lamp.js';

const CUPPING = { minDays: 1, maxDays: 14 };
const BREWED = { minDays: 4, maxDays: 14 };
/** Wednesday 25 November 2026, 10:00 in Lisbon. Roast days are Tuesday and Thursday, cut-off 16:00 the day before. */
const WEDNESDAY = new Date('2026-11-25T10:00:00Z');
const at = (text: string) => new Date(text);

describe('the roast day', () => {
  test('is the latest whose rest is over by the start', () => {
    expect(chooseRoastDay(WEDNESDAY, at('2026-12-11T14:00:00Z'), CUPPING, FERNHOLLOW)).toMatchObject({
      ok: true,
      roastDay: { day: '2026-12-10', noticeDays: 15, favour: false, restDays: 1 },
    });
    // Four days of rest before Friday 11 December end on Monday 7; the roast day before that is Thursday 3.
    expect(chooseRoastDay(WEDNESDAY, at('2026-12-11T14:00:00Z'), BREWED, FERNHOLLOW)).toMatchObject({
      roastDay: { day: '2026-12-03', restDays: 8 },
    });
  });

  // A standalone roast needs about a week's notice: common practice, no source.
  test('under a week from now is a favour, and the reason says so', () => {
    const chosen = chooseRoastDay(WEDNESDAY, at('2026-11-27T14:00:00Z'), CUPPING, FERNHOLLOW);
    expect(chosen).toMatchObject({ ok: true, roastDay: { day: '2026-11-26', noticeDays: 1, favour: true } });
    expect(chosen.ok && chosen.roastDay.reason).toBe(
      'Thursday 26 November is the latest roast day that leaves 1 day of rest or more; it leaves 1. That is 1 day from now, under the usual 7, so this is a favour.',
    );
  });

  test('seven calendar days from now is no favour, six are', () => {
    const sevenDays = { ...FERNHOLLOW, roastDays: [3] };
    expect(chooseRoastDay(WEDNESDAY, at('2026-12-03T14:00:00Z'), CUPPING, sevenDays)).toMatchObject({
      roastDay: { day: '2026-12-02', noticeDays: 7, favour: false },
    });
    const sixDays = { ...FERNHOLLOW, roastDays: [2] };
    expect(chooseRoastDay(WEDNESDAY, at('2026-12-03T14:00:00Z'), CUPPING, sixDays)).toMatchObject({
      roastDay: { day: '2026-12-01', noticeDays: 6, favour: true },
    });
  });

  test('can be joined until the cut-off of the day before, to the minute', () => {
    expect(cutOff('2026-11-26', FERNHOLLOW)).toEqual(at('2026-11-25T16:00:00Z'));
    expect(canJoin('2026-11-26', at('2026-11-25T16:00:00Z'), FERNHOLLOW)).toBe(true);
    expect(canJoin('2026-11-26', at('2026-11-25T16:00:01Z'), FERNHOLLOW)).toBe(false);
  });

  test('skips closed days, and the turn of the year', () => {
    const closed = { ...FERNHOLLOW, closedDays: [{ day: '2026-12-31', name: 'closed' }] };
    const december = at('2026-12-20T10:00:00Z');
    expect(chooseRoastDay(december, at('2027-01-04T14:00:00Z'), CUPPING, FERNHOLLOW)).toMatchObject({
      roastDay: { day: '2026-12-31' },
    });
    expect(chooseRoastDay(december, at('2027-01-04T14:00:00Z'), CUPPING, closed)).toMatchObject({
      roastDay: { day: '2026-12-29' },
    });
  });

  test('counts rest on the calendar across a clock change', () => {
    // The clocks go forward on Sunday 28 March 2027; 13:00 UTC is 14:00 in Lisbon from then on.
    const chosen = chooseRoastDay(at('2027-03-10T10:00:00Z'), at('2027-03-29T13:00:00Z'), BREWED, FERNHOLLOW);
    expect(chosen).toMatchObject({ roastDay: { day: '2027-03-25', restDays: 4 } });
  });
});

describe('when no roast day fits', () => {
  test('says why and offers the nearest starts at the same clock time', () => {
    const booked = at('2026-11-27T14:00:00Z');
    const chosen = chooseRoastDay(WEDNESDAY, booked, BREWED, FERNHOLLOW);
    expect(chosen).toEqual({
      ok: false,
      message: 'No roast day leaves 4 to 14 days of rest before Friday 27 November.',
    });
    // The next roast is Thursday 26; four days on is Monday 30.
    expect(nearestStarts(WEDNESDAY, booked, [BREWED], FERNHOLLOW)).toEqual([
      { start: at('2026-11-30T14:00:00Z'), roastDay: '2026-11-26', favour: true },
      { start: at('2026-12-01T14:00:00Z'), roastDay: '2026-11-26', favour: true },
      { start: at('2026-12-02T14:00:00Z'), roastDay: '2026-11-26', favour: true },
    ]);
  });

  test('offers earlier days too, keeps the clock time across a clock change, and leaves out weekends', () => {
    const onlyTuesdays = { ...FERNHOLLOW, roastDays: [2] };
    const rest = { minDays: 2, maxDays: 3 };
    // Tuesday roasts rest two or three days: tables on Thursday or Friday only. Monday 29 March 2027 fits neither.
    const starts = nearestStarts(
      at('2027-03-10T10:00:00Z'),
      at('2027-03-29T13:00:00Z'),
      [rest],
      onlyTuesdays,
    );
    expect(starts.map(({ start }) => start)).toEqual([
      at('2027-04-01T13:00:00Z'),
      at('2027-03-26T14:00:00Z'),
      at('2027-04-02T13:00:00Z'),
    ]);
  });

  test('offers only starts at which every coffee fits', () => {
    const starts = nearestStarts(
      WEDNESDAY,
      at('2026-11-27T14:00:00Z'),
      [
        { minDays: 1, maxDays: 3 },
        { minDays: 7, maxDays: 14 },
      ],
      FERNHOLLOW,
    );
    // Thursday 26 November with seven days of rest is Thursday 3 December; a roast within three days is Tuesday 1.
    expect(starts[0]).toEqual({ start: at('2026-12-03T14:00:00Z'), roastDay: '2026-11-26', favour: true });
  });

  test('offers nothing that is past', () => {
    const starts = nearestStarts(WEDNESDAY, at('2026-11-26T14:00:00Z'), [CUPPING], FERNHOLLOW);
    expect(starts.every(({ start }) => start > WEDNESDAY)).toBe(true);
    expect(starts).toHaveLength(3);
  });
});

test('coming roast days are those that can still be joined', () => {
  expect(comingRoastDays(WEDNESDAY, FERNHOLLOW, 3)).toEqual(['2026-11-26', '2026-12-01', '2026-12-03']);
  expect(comingRoastDays(at('2026-11-25T17:00:00Z'), FERNHOLLOW, 2)).toEqual(['2026-12-01', '2026-12-03']);
});
