import { describe, expect, test } from 'vitest';
import { askReminders } from '../../../src/domain/roast/reminders.js';
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
