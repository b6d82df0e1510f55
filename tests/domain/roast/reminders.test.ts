import { describe, expect, test } from 'vitest';
import { askMoments } from '../../../src/domain/roast/reminders.js';
import { FERNHOLLOW } from '../table/harbour-lamp.js';

const at = (text: string) => new Date(text);

describe('reminders of a roast ask', () => {
  const ask = { state: 'asked' as const, roastDay: '2026-12-03', askedAt: at('2026-11-25T10:00:00Z') };

  test('come a day after asking, and three hours before the cut-off; after its day it lapses', () => {
    expect(askMoments(ask, FERNHOLLOW)).toEqual([
      { kind: 'ask unanswered', dueAt: at('2026-11-26T10:00:00Z') },
      { kind: 'ask last call', dueAt: at('2026-12-02T13:00:00Z') },
      { kind: 'ask lapsed', dueAt: at('2026-12-04T08:00:00Z') },
    ]);
  });

  test('on short notice there is only the last call', () => {
    const short = { ...ask, roastDay: '2026-11-26' };
    const kinds = askMoments(short, FERNHOLLOW).map((moment) => moment.kind);
    expect(kinds).toEqual(['ask last call', 'ask lapsed']);
  });

  test('never come at night', () => {
    const late = { ...ask, askedAt: at('2026-11-25T22:30:00Z') };
    expect(askMoments(late, FERNHOLLOW)[0]?.dueAt).toEqual(at('2026-11-27T08:00:00Z'));
  });

  test('come the afternoon before and, when no weight is recorded, that evening and next morning', () => {
    expect(askMoments({ ...ask, state: 'accepted' }, FERNHOLLOW)).toEqual([
      { kind: 'ask day before', dueAt: at('2026-12-02T15:00:00Z') },
      { kind: 'ask not recorded', dueAt: at('2026-12-03T18:00:00Z') },
      { kind: 'ask late', dueAt: at('2026-12-04T08:00:00Z') },
      { kind: 'ask given up', dueAt: at('2026-12-05T08:00:00Z') },
    ]);
  });

  test('come on the morning of the roast day to those who accepted too late for the day before', () => {
    const accepted = { ...ask, state: 'accepted' as const, askedAt: at('2026-12-02T16:00:00Z') };
    expect(askMoments(accepted, FERNHOLLOW)[0]).toEqual({
      kind: 'ask roast today',
      dueAt: at('2026-12-03T08:00:00Z'),
    });
  });

  test('end with the ask', () => {
    for (const state of ['roasted', 'declined', 'withdrawn', 'missed'] as const) {
      expect(askMoments({ ...ask, state }, FERNHOLLOW)).toEqual([]);
    }
  });
});
