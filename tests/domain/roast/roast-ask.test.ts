import { describe, expect, test } from 'vitest';
import { ASK_STATES } from '../../../src/domain/record/ask.js';
import { type AskChange, type ChangingAsk, changeAsk } from '../../../src/domain/roast/roast-ask.js';

const ASKED: ChangingAsk = {
  state: 'asked',
  roastDay: '2026-11-26',
  offeredDay: null,
  greenMg: 420_000,
  roastedMg: 355_000,
  overMg: 5_000,
  lossBp: 1550,
  drum: '1 kg sample roaster',
  favour: false,
  reason: '',
  roastId: null,
  wanted: [{ tastingId: 4, mg: 250_000 }],
  free: [{ person: 'U1', mg: 100_000 }],
};
const ROASTED: AskChange = { kind: 'roasted', on: '2026-11-26', roastId: 7 };
const replan = (day: string): AskChange => ({ kind: 'replan', day, favour: false, reason: '' });

const CHANGES: readonly AskChange[] = [
  { kind: 'accept' },
  { kind: 'offer', day: '2026-12-01' },
  { kind: 'decline' },
  { kind: 'agree' },
  { kind: 'withdraw' },
  { kind: 'lapse' },
  replan('2026-12-03'),
  ROASTED,
  { kind: 'struck' },
  { kind: 'missed' },
];

function askAfter(...changes: readonly AskChange[]): ChangingAsk {
  return changes.reduce<ChangingAsk>((ask, change) => {
    const result = changeAsk(ask, change);
    if (!result.ok) throw new Error(result.message);
    return result.ask;
  }, ASKED);
}

describe('a roast ask', () => {
  test('is accepted and roasted', () => {
    expect(askAfter({ kind: 'accept' }, ROASTED)).toEqual({
      ...ASKED,
      state: 'roasted',
      roastId: 7,
    });
  });

  test('takes the offered day when the host agrees', () => {
    expect(askAfter({ kind: 'offer', day: '2026-12-01' })).toEqual({
      ...ASKED,
      state: 'offered',
      offeredDay: '2026-12-01',
    });
    expect(askAfter({ kind: 'offer', day: '2026-12-01' }, { kind: 'agree' })).toEqual({
      ...ASKED,
      state: 'accepted',
      roastDay: '2026-12-01',
      offeredDay: null,
    });
  });

  test('keeps the day on which it was really roasted', () => {
    const early: AskChange = { kind: 'roasted', on: '2026-11-25', roastId: 7 };
    expect(askAfter({ kind: 'accept' }, early).roastDay).toBe('2026-11-25');
  });

  test('can be asked again after a missed day or a moved tasting', () => {
    expect(askAfter({ kind: 'accept' }, { kind: 'missed' }, replan('2026-12-03'))).toEqual({
      ...ASKED,
      state: 'asked',
      roastDay: '2026-12-03',
      offeredDay: null,
    });
  });

  test('moved twice is moved once', () => {
    const twice = askAfter(replan('2026-12-01'), replan('2026-12-03'));
    expect(twice).toEqual(askAfter(replan('2026-12-03')));
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

  test('whose roast is struck is on the plan again, and can be recorded anew', () => {
    const struck = askAfter(ROASTED, { kind: 'struck' });
    expect(struck).toMatchObject({ state: 'accepted', roastId: null });
    expect(changeAsk(struck, { kind: 'roasted', on: '2026-11-26', roastId: 8 })).toMatchObject({
      ok: true,
      ask: { state: 'roasted', roastId: 8 },
    });
  });
});

describe('wishes behind an ask', () => {
  const charge = (mg: number) => ({
    ...{ greenMg: mg * 2, roastedMg: mg + 1000, overMg: 1000, lossBp: 1500, drum: '15 kg drum', remarks: [] },
  });
  const wish = (tableMg: number, freeMg = 0): AskChange => ({
    kind: 'wishes',
    wanted: tableMg > 0 ? [{ tastingId: 4, mg: tableMg }] : [],
    free: freeMg > 0 ? [{ person: 'U1', mg: freeMg }] : [],
    charge,
  });

  test('that nobody has any more withdraw it', () => {
    for (const before of [askAfter(), askAfter({ kind: 'accept' })])
      expect(changeAsk(before, wish(0))).toMatchObject({ ask: { state: 'withdrawn', wanted: [], free: [] } });
  });

  test('that the accepted charge still covers leave it on the plan, and only what is over changes', () => {
    expect(changeAsk(askAfter({ kind: 'accept' }), wish(200_000))).toMatchObject({
      ask: { state: 'accepted', greenMg: 420_000, overMg: 155_000 },
    });
  });

  test('beyond the accepted charge ask the roaster once more, with a new charge', () => {
    expect(changeAsk(askAfter({ kind: 'accept' }), wish(300_000, 100_000))).toMatchObject({
      ask: { state: 'asked', greenMg: 800_000, roastedMg: 401_000, overMg: 1000, drum: '15 kg drum' },
    });
  });

  test('change nothing about an ask that is over', () => {
    expect(changeAsk({ ...ASKED, state: 'declined' }, wish(200_000))).toMatchObject({ ok: false });
  });
});
