import type { HouseFacts } from '../house/house-facts.js';
import type { RestDays } from '../house/rest-window.js';
import { type Ask, LIVE_ASKS, wantedBy } from '../record/ask.js';
import type { Lot } from '../record/coffee.js';
import type { Tasting } from '../record/tasting.js';
import type { CoffeeNeed, TableNeed } from '../table/coffee-needs.js';
import { coffeesAtTable, isEnough } from '../table/readiness.js';
import type { LocalDay } from '../when/local-day.js';
import type { DrumLosses } from './loss.js';
import { type AskStep, type Draft, leave, placeRoast, type Wish } from './place-roast.js';
import { chooseRoastDay } from './roast-day.js';
import { allotShelf, type HostClaim, type RoastedFor, restState, type ShelfPlan } from './shelf.js';

/** Everything a plan is made from. Weights in milligrams. */
export type PlanState = {
  readonly now: Date;
  readonly house: HouseFacts;
  /** The tables that are booked and not open yet, in the order of their ids, and when each was booked. */
  readonly tables: readonly TableNeed[];
  readonly bookedAt: ReadonlyMap<number, Date>;
  /** What stands on the shelf, without what open and closed tables hold. */
  readonly lots: readonly Lot[];
  readonly roastedFor: ReadonlyMap<number, RoastedFor>;
  /** Live asks, and those in any state that stand behind one of the tables; the earliest roast day first. */
  readonly asks: readonly Ask[];
  /** By coffee and tasting: days on which the roaster declined, or the host gave the roast up. */
  readonly refused: ReadonlyMap<number, ReadonlyMap<number, ReadonlySet<LocalDay>>>;
  readonly losses: ReadonlyMap<number, DrumLosses>;
  /** By tasting and coffee: the milligrams its host was last told that other tables hold. */
  readonly lost: ReadonlyMap<number, ReadonlyMap<number, number>>;
  /** A roast that its host asks for again although it was declined or given up. */
  readonly again: { readonly tastingId: number; readonly coffeeId: number } | null;
};

/** What has to change so that every booked table gets its coffee; empty lists when all is as it should be. */
export type RoastChanges = {
  /** What each table holds from now on: lot → milligrams. */
  readonly reserved: ReadonlyMap<number, ReadonlyMap<number, number>>;
  readonly asks: readonly AskStep[];
  readonly lost: readonly {
    readonly tastingId: number;
    readonly coffeeId: number;
    readonly mg: number;
    readonly to: readonly number[];
  }[];
  readonly tastings: readonly { readonly tasting: Tasting; readonly change: 'make ready' | 'unready' }[];
};

/**
 * Plans the roasts of all booked tables. The shelf is shared out, first booked, first served; every table's
 * asks follow what it is left short of: none, fewer, more or on another day. Planning what is planned already
 * changes nothing.
 */
export function planRoasts(state: PlanState): RoastChanges {
  const { house, losses } = state;
  const asks = new Map(state.asks.map((ask) => [ask.id, ask]));
  const draft: Draft = { house, losses, asks, steps: [] };
  const shared = allotShelf(state.lots, state.tables.flatMap(claimsOf(state)), state.roastedFor);
  const reserved = new Map(
    state.tables.map(({ setting: { tasting } }) => {
      const own = shared.reserved.filter((entry) => entry.tastingId === tasting.id);
      return [tasting.id, new Map(own.map((entry) => [entry.lotId, entry.mg]))];
    }),
  );
  const lost: RoastChanges['lost'][number][] = [];
  const tastings: RoastChanges['tastings'][number][] = [];
  leaveAsks(draft, (tastingId) => !reserved.has(tastingId));
  planAllAsks(draft, state, shared);
  for (const table of state.tables) {
    const { tasting } = table.setting;
    const held = heldByCoffee(shared.reserved, state.lots, tasting.id);
    for (const { coffeeId } of table.needs) {
      const gone = lostTo(state, shared, table, coffeeId);
      if (gone.mg !== (state.lost.get(tasting.id)?.get(coffeeId) ?? 0))
        lost.push({ tastingId: tasting.id, coffeeId, ...gone });
    }
    const coffees = coffeesAtTable(table, held, askedFor(draft, tasting.id));
    const isReady = coffees.every((coffee) => coffee.state === 'on the shelf');
    if (isReady !== (tasting.state === 'ready'))
      tastings.push({ tasting, change: isReady ? 'make ready' : 'unready' });
  }
  return { reserved, asks: draft.steps.filter(({ after }) => !isStillborn(draft, after)), lost, tastings };
}

/**
 * Plans the asks table by table, and once more as long as that still changed something: a table may leave its
 * own ask for what is over in a charge that a later table made larger.
 */
function planAllAsks(draft: Draft, state: PlanState, shared: ShelfPlan): void {
  for (let round = 0; round <= state.tables.length; round += 1) {
    const before = draft.steps.length;
    for (const table of state.tables) {
      planAsks(draft, state, table, heldByCoffee(shared.reserved, state.lots, table.setting.tasting.id));
    }
    if (draft.steps.length === before) return;
  }
}

/** Asked and withdrawn in one plan: nobody hears of it. */
function isStillborn(draft: Draft, { id }: Ask): boolean {
  return id < 0 && draft.asks.get(id)?.state === 'withdrawn';
}

function claimsOf(state: PlanState): (table: TableNeed) => readonly HostClaim[] {
  return ({ setting: { tasting }, needs, rests, tableDay }) =>
    needs.flatMap(({ coffeeId, totalMg: mg }) => {
      const rest = rests.get(coffeeId);
      const bookedAt = state.bookedAt.get(tasting.id) ?? tasting.startsAt;
      return rest
        ? [{ tastingId: tasting.id, bookedAt, coffeeId, mg, tableDay, rest, host: tasting.host }]
        : [];
    });
}

/** Milligrams that a tasting holds, per coffee. */
export function heldByCoffee(
  held: readonly { readonly tastingId: number; readonly lotId: number; readonly mg: number }[],
  lots: readonly Lot[],
  tastingId: number,
): ReadonlyMap<number, number> {
  const coffeeOf = new Map(lots.map((lot) => [lot.id, lot.coffeeId]));
  const sums = new Map<number, number>();
  for (const entry of held) {
    const coffeeId = coffeeOf.get(entry.lotId);
    if (entry.tastingId === tastingId && coffeeId !== undefined)
      sums.set(coffeeId, (sums.get(coffeeId) ?? 0) + entry.mg);
  }
  return sums;
}

/** How much of what a table is short of stands on the shelf for other tables, and for which. */
function lostTo(state: PlanState, shared: ShelfPlan, table: TableNeed, coffeeId: number) {
  const own = table.setting.tasting.id;
  const rest = table.rests.get(coffeeId);
  const short = shared.short.find((entry) => entry.tastingId === own && entry.coffeeId === coffeeId);
  // Spare grams are there to be gone without: short of no more than them, nobody loses anything.
  if (!short || !rest || short.mg <= table.spareMg) return { mg: 0, to: [] };
  const usable = new Set(
    state.lots
      .filter((lot) => lot.coffeeId === coffeeId && restState(lot, rest, table.tableDay) === 'good')
      .map((lot) => lot.id),
  );
  const held = shared.reserved.filter((entry) => entry.tastingId !== own && usable.has(entry.lotId));
  const mg = held.reduce((sum, entry) => sum + entry.mg, 0);
  return { mg: Math.min(mg, short.mg), to: [...new Set(held.map((entry) => entry.tastingId))] };
}

/** The asks that a tasting stands behind, the oldest first. */
function askedFor(draft: Draft, tastingId: number): readonly Ask[] {
  return [...draft.asks.values()].filter((ask) => wantedBy(ask, tastingId) > 0).sort(byAge);
}

/** New asks, whose ids are below nothing until they are stored, come after those that have one. */
function byAge(a: Ask, b: Ask): number {
  return a.id > 0 === b.id > 0 ? Math.abs(a.id) - Math.abs(b.id) : b.id - a.id;
}

function liveAsks(draft: Draft, coffeeId: number): readonly Ask[] {
  return [...draft.asks.values()]
    .filter((ask) => ask.coffeeId === coffeeId && LIVE_ASKS.includes(ask.state))
    .sort((a, b) => (a.roastDay === b.roastDay ? byAge(a, b) : a.roastDay < b.roastDay ? -1 : 1));
}

/** Takes tables off the live asks of coffees that they no longer need. */
function leaveAsks(draft: Draft, leaves: (tastingId: number, coffeeId: number) => boolean): void {
  for (const { id } of [...draft.asks.values()].sort(byAge)) {
    for (const { tastingId } of draft.asks.get(id)?.wanted ?? []) {
      const ask = draft.asks.get(id);
      if (ask && LIVE_ASKS.includes(ask.state) && leaves(tastingId, ask.coffeeId))
        leave(draft, ask, tastingId);
    }
  }
}

function planAsks(draft: Draft, state: PlanState, table: TableNeed, held: ReadonlyMap<number, number>): void {
  const { tasting, coffees } = table.setting;
  const needed = new Set(table.needs.map((need) => need.coffeeId));
  leaveAsks(draft, (tastingId, coffeeId) => tastingId === tasting.id && !needed.has(coffeeId));
  const before = askedFor(draft, tasting.id);
  for (const need of table.needs) {
    const rest = table.rests.get(need.coffeeId);
    if (!coffees.has(need.coffeeId) || !rest) continue;
    const own = before.filter((ask) => ask.coffeeId === need.coffeeId);
    const heldMg = held.get(need.coffeeId) ?? 0;
    const shortMg = isEnough(need, heldMg, table.spareMg, own) ? 0 : need.totalMg - heldMg;
    const live = liveAsks(draft, need.coffeeId);
    if (shortMg === 0 && !live.some((ask) => wantedBy(ask, tasting.id) > 0)) continue;
    const wish = wishOf(state, table, need, rest, shortMg);
    placeRoast(draft, wish, live);
  }
}

function wishOf(
  { now, house, refused, again }: PlanState,
  table: TableNeed,
  { coffeeId }: CoffeeNeed,
  rest: RestDays,
  shortMg: number,
): Wish {
  const { tasting } = table.setting;
  // The reason has to stay true, so how short the notice is the ask itself keeps.
  const chosen = chooseRoastDay(now, tasting.startsAt, rest, { ...house, noticeDays: 0 });
  const day = chosen.ok ? chosen.roastDay : null;
  const isAgain = again?.tastingId === tasting.id && again.coffeeId === coffeeId;
  return {
    tastingId: tasting.id,
    coffeeId,
    host: tasting.host,
    roaster: house.roasterPerson ?? tasting.host,
    tableDay: table.tableDay,
    rest,
    shortMg,
    day: day && { ...day, favour: day.noticeDays < house.noticeDays },
    refused: (isAgain ? undefined : refused.get(coffeeId)?.get(tasting.id)) ?? new Set(),
  };
}
