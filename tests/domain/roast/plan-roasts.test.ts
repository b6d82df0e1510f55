import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Ask, LIVE_ASKS, wantedBy, wantedMg } from '../../../src/domain/record/ask.js';
import type { Tasting } from '../../../src/domain/record/tasting.js';
import { drumLosses } from '../../../src/domain/roast/loss.js';
import { type PlanState, planRoasts, type RoastChanges } from '../../../src/domain/roast/plan-roasts.js';
import type { TableNeed } from '../../../src/domain/table/coffee-needs.js';
import { daysAfter } from '../../../src/domain/when/local-day.js';
import { CHIRINOS, FERNHOLLOW, KAYANZA_HILL } from '../table/harbour-lamp.js';

const NOW = new Date('2026-11-24T09:00:00Z');
const TODAY = '2026-11-24';
const HOUSE = { ...FERNHOLLOW, roasterPerson: 'U0BRAM' };
const COFFEES = new Map([CHIRINOS, KAYANZA_HILL].map((coffee) => [coffee.id, coffee]));
const REST = { minDays: 1, maxDays: 14 };

type Wanted = { readonly inDays: number; readonly host: string; readonly mg: readonly number[] };

function tableOf(id: number, { inDays, host, mg }: Wanted, state: Tasting['state'] = 'booked'): TableNeed {
  const tableDay = daysAfter(TODAY, inDays);
  const tasting: Tasting = {
    ...{ id, number: id, recipeVersionId: 1, channel: 'C1', host, state, blind: false, format: 'cupping' },
    ...{ startsAt: new Date(`${tableDay}T14:00:00Z`), tables: 1, seed: 1, brief: null, batchMg: null },
    ...{ openedAt: null, closedAt: null, decidedAt: null, winnerCupId: null, decidedRule: null },
    ...{ signedOffBy: null, tallyShown: false, invited: [] },
  };
  const recipe = {
    ...{ id: 1, versionId: 1, version: 1, name: 'Harbour Lamp', groupLossBp: new Map<string, number>() },
    parts: [...COFFEES.keys()].map((coffeeId) => ({ coffeeId, parts: 1, roastGroup: null })),
  };
  const needs = [...COFFEES.keys()].map((coffeeId, index) => {
    const totalMg = mg[index] ?? 0;
    return { coffeeId, tableMg: Math.round(totalMg / 3), purgeMg: 5000, totalMg };
  });
  const rests = new Map([...COFFEES.keys()].map((coffeeId) => [coffeeId, REST]));
  return {
    setting: { tasting, recipe, cups: [], coffees: COFFEES },
    needs,
    rests,
    tableDay,
    spareMg: 50_000,
  };
}

function stateOf(tables: readonly TableNeed[], more: Partial<PlanState> = {}): PlanState {
  const losses = new Map([...COFFEES.keys()].map((id) => [id, drumLosses([], 1550, HOUSE.drums)]));
  return {
    ...{ now: NOW, house: HOUSE, tables, lots: [], asks: [], losses, again: null },
    ...{ bookedAt: new Map(), roastedFor: new Map(), refused: new Map(), lost: new Map() },
    ...more,
  };
}

/** The state once the changes are stored: new asks get the next ids. */
function stored(state: PlanState, changes: RoastChanges): PlanState {
  const asks = new Map(state.asks.map((ask) => [ask.id, ask]));
  for (const step of changes.asks) asks.set(step.after.id, step.after);
  let next = Math.max(0, ...asks.keys());
  const kept: Ask[] = [];
  for (const ask of asks.values()) {
    if (ask.id < 0) next += 1;
    kept.push(ask.id < 0 ? { ...ask, id: next } : ask);
  }
  const states = new Map(changes.tastings.map(({ tasting, change }) => [tasting.id, change]));
  const tables = state.tables.map((table) => {
    const { tasting } = table.setting;
    const change = states.get(tasting.id);
    const ready = change ? change === 'make ready' : tasting.state === 'ready';
    return {
      ...table,
      setting: { ...table.setting, tasting: { ...tasting, state: ready ? 'ready' : 'booked' } as const },
    };
  });
  const lost = new Map(
    tables.map(({ setting: { tasting } }) => [
      tasting.id,
      new Map([
        ...(state.lost.get(tasting.id) ?? []),
        ...changes.lost.flatMap((gone): [number, number][] =>
          gone.tastingId === tasting.id ? [[gone.coffeeId, gone.mg]] : [],
        ),
      ]),
    ]),
  );
  return { ...state, asks: kept, tables, lost };
}

const anything = fc.record({
  what: fc.constantFrom('book', 'book', 'move', 'cancel', 'accepted', 'offered', 'declined', 'shelf'),
  pick: fc.nat(1000),
  wanted: fc.record({
    inDays: fc.integer({ min: 3, max: 24 }),
    host: fc.constantFrom('U0INES', 'U0NOOR'),
    mg: fc.tuple(fc.integer({ min: 60_000, max: 400_000 }), fc.integer({ min: 60_000, max: 400_000 })),
  }),
});
type Anything = typeof anything extends fc.Arbitrary<infer T> ? T : never;

/** The state after one thing that somebody did, before the plan follows. */
function happened(state: PlanState, { what, pick, wanted }: Anything, next: number): PlanState {
  const { tables, asks, lots } = state;
  const at = pick % Math.max(1, tables.length);
  if (what === 'book')
    return tables.length < 5 ? { ...state, tables: [...tables, tableOf(next, wanted)] } : state;
  if (what === 'cancel') return { ...state, tables: tables.filter((_, index) => index !== at) };
  if (what === 'move') {
    const moved = (table: TableNeed) => {
      const { id, host } = table.setting.tasting;
      const there = tableOf(id, { ...wanted, host });
      return { ...there, needs: table.needs };
    };
    return { ...state, tables: tables.map((table, index) => (index === at ? moved(table) : table)) };
  }
  if (what === 'shelf') {
    const lot = { coffeeId: 1 + (pick % 2), mg: pick * 400, ago: pick % 9 };
    return { ...state, lots: [...lots, ...lotsOf([lot]).map((one) => ({ ...one, id: next }))] };
  }
  const live = asks.filter((ask) => ask.state === 'asked' || ask.state === 'offered');
  const { id } = live[pick % Math.max(1, live.length)] ?? { id: null };
  const answered = (ask: Ask): Ask =>
    ask.id === id
      ? { ...ask, state: what, offeredDay: what === 'offered' ? daysAfter(ask.roastDay, 2) : null }
      : ask;
  // What the roaster declined is not asked for again by itself.
  const declined = what === 'declined' ? asks.find((ask) => ask.id === id) : undefined;
  const refused = new Map(
    [...COFFEES.keys()].map((coffeeId) => {
      const before = state.refused.get(coffeeId) ?? new Map<number, ReadonlySet<string>>();
      const own = declined?.coffeeId === coffeeId ? declined : null;
      const more = (own?.wanted ?? []).map(({ tastingId }): [number, ReadonlySet<string>] => [
        tastingId,
        new Set([...(before.get(tastingId) ?? []), own?.roastDay ?? '']),
      ]);
      return [coffeeId, new Map([...before, ...more])];
    }),
  );
  return { ...state, asks: asks.map(answered), refused };
}

function lotsOf(facts: readonly { readonly coffeeId: number; readonly mg: number; readonly ago: number }[]) {
  return facts.map(({ coffeeId, mg, ago }, index) => ({
    ...{ id: index + 1, coffeeId, mg, roastedOn: daysAfter(TODAY, -ago), bestBy: null },
  }));
}

describe('a plan of roasts', () => {
  test('asks for what is short, joins tables of one day into one charge, and is made once', () => {
    const tables = [
      tableOf(1, { inDays: 10, host: 'U0INES', mg: [200_000, 150_000] }),
      tableOf(2, { inDays: 10, host: 'U0NOOR', mg: [200_000, 150_000] }),
    ];
    const state = stateOf(tables, { lots: lotsOf([{ coffeeId: 2, mg: 400_000, ago: 0 }]) });
    const plan = planRoasts(state);
    const { asks } = stored(state, plan);
    // 400 g / (1 − 15.5 %) = 473.4 g, up to the drum scale's 10 g.
    expect(asks).toMatchObject([{ coffeeId: 1, greenMg: 480_000, roastDay: '2026-12-03', state: 'asked' }]);
    expect(asks[0]?.wanted).toEqual([
      { tastingId: 1, mg: 200_000 },
      { tastingId: 2, mg: 200_000 },
    ]);
    expect(plan.reserved.get(1)).toEqual(new Map([[1, 150_000]]));
  });

  test('of any season gives no lot twice, leaves no orphan, and changes nothing made again', () => {
    let asked = 0;
    fc.assert(
      fc.property(fc.array(anything, { minLength: 6, maxLength: 14 }), (season) => {
        let state = stateOf([]);
        for (const [index, one] of season.entries()) {
          state = happened(state, one, index + 1);
          const plan = planRoasts(state);
          for (const lot of state.lots) {
            const held = [...plan.reserved.values()].reduce((sum, own) => sum + (own.get(lot.id) ?? 0), 0);
            expect(held).toBeLessThanOrEqual(lot.mg);
          }
          state = stored(state, plan);
          const ids = new Set(state.tables.map((table) => table.setting.tasting.id));
          for (const ask of state.asks.filter(({ state: now }) => LIVE_ASKS.includes(now))) {
            asked += 1;
            expect(wantedMg(ask)).toBeGreaterThan(0);
            expect(ask.roastedMg - ask.overMg).toBe(wantedMg(ask));
            for (const { tastingId } of ask.wanted) {
              expect(ids.has(tastingId)).toBe(true);
              expect(wantedBy(ask, tastingId)).toBeGreaterThan(0);
            }
          }
          expect(planRoasts(state)).toEqual({ reserved: plan.reserved, asks: [], lost: [], tastings: [] });
        }
      }),
      { numRuns: 300, seed: 20261124 },
    );
    expect(asked).toBeGreaterThan(1000);
  });
});
