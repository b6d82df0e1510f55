import { describe, expect, test } from 'vitest';
import { TASTING_STATES } from '../../../src/domain/record/tasting.js';
import { readiness } from '../../../src/domain/table/readiness.js';
import { stateAfter, type TastingChange } from '../../../src/domain/table/tasting.js';

describe('the life of a tasting', () => {
  test('goes from booked to decided', () => {
    const path: readonly TastingChange[] = ['make ready', 'open', 'close', 'decide'];
    const states = path.map((change, index) => {
      const result = stateAfter(TASTING_STATES[index] ?? 'cancelled', change);
      return result.ok ? result.state : 'refused';
    });
    expect(states).toEqual(['ready', 'open', 'closed', 'decided']);
  });

  test('an unready table may be opened, and a closed one reopened', () => {
    expect(stateAfter('booked', 'open')).toEqual({ ok: true, state: 'open', changed: true });
    expect(stateAfter('closed', 'reopen')).toEqual({ ok: true, state: 'open', changed: true });
  });

  test('can be cancelled from any state before decided, and not after', () => {
    for (const state of ['booked', 'ready', 'open', 'closed'] as const) {
      expect(stateAfter(state, 'cancel')).toMatchObject({ ok: true, state: 'cancelled' });
    }
    expect(stateAfter('decided', 'cancel')).toEqual({
      ok: false,
      message: 'This tasting is decided; its digest stands. Book another to taste again.',
    });
  });

  test('moved twice is moved once', () => {
    const once = stateAfter('ready', 'move');
    expect(once).toEqual({ ok: true, state: 'booked', changed: true });
    expect(stateAfter('booked', 'move')).toEqual(once);
    expect(stateAfter('open', 'move')).toMatchObject({ ok: false });
  });

  test('a second tap changes nothing', () => {
    expect(stateAfter('open', 'open')).toEqual({ ok: true, state: 'open', changed: false });
    expect(stateAfter('decided', 'decide')).toEqual({ ok: true, state: 'decided', changed: false });
  });

  test('a decided tasting cannot be opened, closed or moved', () => {
    for (const change of ['open', 'close', 'move', 'reopen'] as const) {
      expect(stateAfter('decided', change)).toMatchObject({
        ok: false,
        message: expect.stringContaining('decided'),
      });
    }
  });
});

describe('readiness', () => {
  const rest = { minDays: 1, maxDays: 14 };
  const chirinos = { name: 'Chirinos', needMg: 161_200, reservedMg: 0, rest };
  const ask = { state: 'asked' as const, roastDay: '2026-11-26', offeredDay: null, roaster: 'U1' };

  test('is reached when every coffee is set aside', () => {
    expect(readiness('2026-11-27', [{ ...chirinos, reservedMg: 161_200, ask: null }])).toEqual({
      ready: true,
      coffees: [{ name: 'Chirinos', state: 'there', said: 'Chirinos: 161.2 g set aside.', missingMg: 0 }],
    });
  });

  test.each([
    [null, 'missing', 'Chirinos: 161.2 g to roast; nobody is asked yet.'],
    [ask, 'missing', 'Chirinos: 161.2 g to roast; asked for Thu 26 Nov, no answer yet.'],
    [
      { ...ask, state: 'offered' as const, offeredDay: '2026-12-01' },
      'missing',
      'Chirinos: 161.2 g to roast; the roaster offers Tue 1 Dec.',
    ],
    [{ ...ask, state: 'accepted' as const }, 'coming', 'Chirinos: to be roasted Thu 26 Nov.'],
    [{ ...ask, state: 'declined' as const }, 'missing', 'Chirinos: 161.2 g to roast; the roaster declined.'],
    [
      { ...ask, state: 'missed' as const },
      'missing',
      'Chirinos: 161.2 g to roast; the roast of Thu 26 Nov did not happen.',
    ],
  ])('says what is missing and where it stands: %o', (asked, state, said) => {
    expect(readiness('2026-11-27', [{ ...chirinos, ask: asked }])).toMatchObject({
      ready: false,
      coffees: [{ state, said }],
    });
  });

  test('says how much of what it needs is still to come', () => {
    expect(readiness('2026-11-27', [{ ...chirinos, reservedMg: 100_000, ask }]).coffees[0]?.said).toBe(
      'Chirinos: 61.2 g of 161.2 g to roast; asked for Thu 26 Nov, no answer yet.',
    );
  });

  test('wants the rest to be over by the day of the table', () => {
    const brewed = {
      ...chirinos,
      rest: { minDays: 4, maxDays: 14 },
      ask: { ...ask, state: 'roasted' as const },
    };
    expect(readiness('2026-11-27', [brewed]).coffees[0]?.said).toBe(
      'Chirinos: roasted Thu 26 Nov, 1 day before the table; it wants 4 to 14.',
    );
  });
});
