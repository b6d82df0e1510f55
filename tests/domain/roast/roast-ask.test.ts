import { describe, expect, test } from 'vitest';
import { ASK_STATES } from '../../../src/domain/record/ask.js';
import { type AnsweredAsk, type AskChange, changeAsk } from '../../../src/domain/roast/roast-ask.js';

const ASKED: AnsweredAsk = { state: 'asked', roastDay: '2026-11-26', offeredDay: null };
const OUTCOME = {
  greenInMg: 420_000,
  roastedOutMg: 355_000,
  roastedOn: '2026-11-26',
  level: null,
  colour: null,
  remarks: null,
};

const CHANGES: readonly AskChange[] = [
  { kind: 'accept' },
  { kind: 'offer', day: '2026-12-01' },
  { kind: 'decline', because: null },
  { kind: 'agree' },
  { kind: 'withdraw' },
  { kind: 'replan', day: '2026-12-03' },
  { kind: 'roasted', outcome: OUTCOME },
  { kind: 'missed' },
];

function askAfter(...changes: readonly AskChange[]): AnsweredAsk {
  return changes.reduce((ask, change) => {
    const result = changeAsk(ask, change);
    if (!result.ok) throw new Error(result.message);
    return result.ask;
  }, ASKED);
}

describe('a roast ask', () => {
  test('is accepted and roasted', () => {
    expect(askAfter({ kind: 'accept' }, { kind: 'roasted', outcome: OUTCOME })).toEqual({
      ...ASKED,
      state: 'roasted',
    });
  });

  test('takes the offered day when the host agrees', () => {
    expect(askAfter({ kind: 'offer', day: '2026-12-01' })).toEqual({
      ...ASKED,
      state: 'offered',
      offeredDay: '2026-12-01',
    });
    expect(askAfter({ kind: 'offer', day: '2026-12-01' }, { kind: 'agree' })).toEqual({
      state: 'accepted',
      roastDay: '2026-12-01',
      offeredDay: null,
    });
  });

  test('keeps the day on which it was really roasted', () => {
    const early = { ...OUTCOME, roastedOn: '2026-11-25' };
    expect(askAfter({ kind: 'accept' }, { kind: 'roasted', outcome: early }).roastDay).toBe('2026-11-25');
  });

  test('can be asked again after a missed day or a moved tasting', () => {
    expect(askAfter({ kind: 'accept' }, { kind: 'missed' }, { kind: 'replan', day: '2026-12-03' })).toEqual({
      state: 'asked',
      roastDay: '2026-12-03',
      offeredDay: null,
    });
  });

  test('moved twice is moved once', () => {
    const twice = askAfter({ kind: 'replan', day: '2026-12-01' }, { kind: 'replan', day: '2026-12-03' });
    expect(twice).toEqual(askAfter({ kind: 'replan', day: '2026-12-03' }));
  });

  test.each(CHANGES.filter((change) => change.kind !== 'roasted'))(
    'a second tap of $kind changes nothing',
    (change) => {
      for (const state of ASK_STATES) {
        const first = changeAsk({ ...ASKED, state }, change);
        if (!first.ok) continue;
        expect(changeAsk(first.ask, change)).toEqual({ ok: true, ask: first.ask, changed: false });
      }
    },
  );

  test.each([
    ['declined', 'accept'],
    ['roasted', 'decline'],
    ['withdrawn', 'roasted'],
    ['missed', 'accept'],
    ['asked', 'agree'],
    ['asked', 'missed'],
  ] as const)('once %s it cannot be changed by %s, and says why', (state, kind) => {
    const change = CHANGES.find((candidate) => candidate.kind === kind);
    expect(change && changeAsk({ ...ASKED, state }, change)).toMatchObject({
      ok: false,
      message: expect.stringMatching(/\w+\./u),
    });
  });

  test.each([
    [355_000, 420_000, 'swapped'],
    [420_000, 420_000, 'swapped'],
    [420_000, 100_000, 'less than half'],
  ])('%i mg in and %i mg out is asked about', (greenInMg, roastedOutMg, why) => {
    const outcome = { ...OUTCOME, greenInMg, roastedOutMg };
    expect(changeAsk(ASKED, { kind: 'roasted', outcome })).toMatchObject({
      ok: false,
      message: expect.stringContaining(why),
    });
  });
});
