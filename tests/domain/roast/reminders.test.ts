import { describe, expect, test } from 'vitest';
import { askReminders, dueReminders, tastingReminders } from '../../../src/domain/roast/reminders.js';
import { FERNHOLLOW } from '../table/harbour-lamp.js';

const at = (text: string) => new Date(text);

describe('reminders of a roast ask', () => {
  const ask = { id: 9, state: 'asked' as const, roastDay: '2026-12-03', askedAt: at('2026-11-25T10:00:00Z') };

  test('come a day after asking, and three hours before the cut-off', () => {
    expect(askReminders(ask, FERNHOLLOW)).toEqual([
      { key: 'ask 9 unanswered', kind: 'ask unanswered', dueAt: at('2026-11-26T10:00:00Z'), to: 'roaster' },
      { key: 'ask 9 last call', kind: 'ask unanswered', dueAt: at('2026-12-02T13:00:00Z'), to: 'host' },
    ]);
  });

  test('on short notice there is only the last call', () => {
    const short = { ...ask, roastDay: '2026-11-26' };
    expect(askReminders(short, FERNHOLLOW).map((reminder) => reminder.key)).toEqual(['ask 9 last call']);
  });

  test('on the roast day come in the morning and, when no weight is recorded, that evening and next morning', () => {
    expect(askReminders({ ...ask, state: 'accepted' }, FERNHOLLOW)).toEqual([
      { key: 'ask 9 roast today', kind: 'roast today', dueAt: at('2026-12-03T08:00:00Z'), to: 'roaster' },
      {
        key: 'ask 9 not recorded',
        kind: 'roast not recorded',
        dueAt: at('2026-12-03T18:00:00Z'),
        to: 'roaster',
      },
      { key: 'ask 9 late', kind: 'roast not recorded', dueAt: at('2026-12-04T08:00:00Z'), to: 'host' },
    ]);
  });

  test('end with the ask', () => {
    for (const state of ['roasted', 'declined', 'withdrawn', 'missed'] as const) {
      expect(askReminders({ ...ask, state }, FERNHOLLOW)).toEqual([]);
    }
  });
});

describe('reminders of a tasting', () => {
  const tasting = { id: 4, state: 'booked' as const, startsAt: at('2027-03-29T13:00:00Z'), closedAt: null };

  test('keep the hour of the house across a clock change', () => {
    // Two mornings before Monday 29 March 2027 is Saturday 27, still winter time: 08:00 is 08:00 UTC.
    expect(tastingReminders(tasting, FERNHOLLOW)).toEqual([
      { key: 'tasting 4 not ready', kind: 'not ready', dueAt: at('2027-03-27T08:00:00Z'), to: 'host' },
      { key: 'tasting 4 set', kind: 'set the table', dueAt: at('2027-03-29T11:30:00Z'), to: 'host' },
      { key: 'tasting 4 open', kind: 'open the table', dueAt: at('2027-03-29T13:00:00Z'), to: 'host' },
    ]);
  });

  test('say nothing of readiness once it is ready', () => {
    expect(
      tastingReminders({ ...tasting, state: 'ready' }, FERNHOLLOW).map((reminder) => reminder.kind),
    ).not.toContain('not ready');
  });

  test('follow a table that stays open or undecided', () => {
    expect(tastingReminders({ ...tasting, state: 'open' }, FERNHOLLOW)).toMatchObject([
      { kind: 'table still open', dueAt: at('2027-03-29T15:00:00Z') },
    ]);
    const closed = { ...tasting, state: 'closed' as const, closedAt: at('2027-03-29T14:00:00Z') };
    expect(tastingReminders(closed, FERNHOLLOW)).toMatchObject([
      { kind: 'table undecided', dueAt: at('2027-03-30T07:00:00Z') },
    ]);
    expect(tastingReminders({ ...tasting, state: 'decided' }, FERNHOLLOW)).toEqual([]);
  });

  test('are due when their time has come, soonest first', () => {
    const all = tastingReminders(tasting, FERNHOLLOW);
    expect(
      dueReminders([...all].reverse(), at('2027-03-29T11:30:00Z')).map((reminder) => reminder.kind),
    ).toEqual(['not ready', 'set the table']);
    expect(dueReminders(all, at('2027-03-27T07:59:59Z'))).toEqual([]);
  });
});
