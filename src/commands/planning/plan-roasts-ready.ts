import type { HouseFacts } from '../../domain/house/house-facts.js';
import type { AskState } from '../../domain/record/ask.js';
import { coffeeName } from '../../domain/record/table-setting.js';
import type { Tasting } from '../../domain/record/tasting.js';
import { type FittingStart, nearestStarts } from '../../domain/roast/roast-day.js';
import type { CoffeeNeed } from '../../domain/table/coffee-needs.js';
import { readiness as readinessAtTable } from '../../domain/table/readiness.js';
import type { LocalDay } from '../../domain/when/local-day.js';
import { listRefusedDays } from '../../store/ask-history.js';
import { listAsksFor, type StoredAsk } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listLots } from '../../store/lots.js';
import { listReservationsOf } from '../../store/reservations.js';
import { loadTable } from '../common/load-table.js';
import { type TableNeed, tableNeed } from './plan-roasts-supply.js';

/** Where one coffee of a table stands, and what is needed of it. Weights in milligrams. */
export type CoffeeReadiness = {
  readonly coffeeId: number;
  readonly name: string;
  readonly state: 'on the shelf' | AskState | 'missing';
  readonly neededMg: number;
  readonly onShelfMg: number;
  readonly missingMg: number;
  readonly ask: StoredAsk | null;
  /** One short sentence in plain words; who is asked is `ask.roaster`. */
  readonly said: string;
};

/** Whether a table will have all its coffees, and when it could have them if it will not. */
export type TableReadiness = {
  readonly ready: boolean;
  readonly coffees: readonly CoffeeReadiness[];
  /** Coffees for which nothing is under way. */
  readonly stuck: readonly CoffeeReadiness[];
  /** Starts at which every stuck coffee could be there; empty when none is stuck. */
  readonly nearest: readonly FittingStart[];
};

/** Asks that will not bring anything by themselves. */
const STUCK: readonly CoffeeReadiness['state'][] = ['missing', 'declined', 'missed', 'withdrawn', 'roasted'];
/** The least certain first: what a host has to know of a coffee that two asks bring. */
const LEAST_CERTAIN: readonly AskState[] = ['offered', 'asked', 'accepted'];

/** Where every coffee of a tasting stands, as the shelf and the asks are now. */
export async function readinessOf(
  db: DbOrTransaction,
  workspace: string,
  tasting: Tasting,
  now: Date,
): Promise<TableReadiness> {
  const house = await loadHouse(db, workspace);
  const table = tableNeed(await loadTable(db, workspace, tasting), house);
  const coffees = await coffeesAt(db, workspace, table);
  const stuck = coffees.filter((coffee) => STUCK.includes(coffee.state));
  return {
    ready: coffees.every((coffee) => coffee.state === 'on the shelf'),
    coffees,
    stuck,
    nearest: stuck.length === 0 ? [] : await nearest(db, workspace, table, stuck, house, now),
  };
}

/** Where every coffee of a table stands. */
export async function coffeesAt(
  db: DbOrTransaction,
  workspace: string,
  table: TableNeed,
): Promise<readonly CoffeeReadiness[]> {
  const { tasting } = table.setting;
  const asks = await listAsksFor(db, workspace, tasting.id);
  const held = await heldByCoffee(db, workspace, tasting.id);
  return table.needs.map((need) =>
    coffeeReadiness(
      table,
      need,
      held.get(need.coffeeId) ?? 0,
      table.spareMg,
      asks.filter((ask) => ask.coffeeId === need.coffeeId),
    ),
  );
}

/**
 * Is there enough? All that the house keeps ready but its spare grams, or, once a roast was made for this
 * table, what the cups themselves take: nobody heats a drum for a few spare grams.
 */
export function enough(
  need: CoffeeNeed,
  heldMg: number,
  spareMg: number,
  asks: readonly StoredAsk[],
): boolean {
  if (heldMg >= need.totalMg - spareMg && heldMg > 0) return true;
  return heldMg >= need.tableMg + need.purgeMg && asks.some((ask) => ask.state === 'roasted');
}

/** Milligrams that a tasting holds, per coffee. */
export async function heldByCoffee(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
): Promise<ReadonlyMap<number, number>> {
  const coffeeOf = new Map((await listLots(db, workspace)).map((lot) => [lot.id, lot.coffeeId]));
  const held = new Map<number, number>();
  for (const { lotId, mg } of await listReservationsOf(db, tastingId)) {
    const coffeeId = coffeeOf.get(lotId);
    if (coffeeId !== undefined) held.set(coffeeId, (held.get(coffeeId) ?? 0) + mg);
  }
  return held;
}

function coffeeReadiness(
  table: TableNeed,
  need: CoffeeNeed,
  heldMg: number,
  spareMg: number,
  asks: readonly StoredAsk[],
): CoffeeReadiness {
  const { coffees } = table.setting;
  const there = enough(need, heldMg, spareMg, asks);
  const live = LEAST_CERTAIN.flatMap((state) => asks.filter((ask) => ask.state === state));
  const ask = there ? null : (live[0] ?? asks.at(-1) ?? null);
  const rest = table.rests.get(need.coffeeId) ?? { minDays: 0, maxDays: 0 };
  const name = coffeeName(coffees, need.coffeeId);
  const needMg = there ? Math.min(need.totalMg, heldMg) : need.totalMg;
  const said = readinessAtTable(table.tableDay, [{ name, needMg, reservedMg: heldMg, ask, rest }]);
  return {
    coffeeId: need.coffeeId,
    name,
    state: there ? 'on the shelf' : (ask?.state ?? 'missing'),
    neededMg: need.totalMg,
    onShelfMg: heldMg,
    missingMg: there ? 0 : need.totalMg - heldMg,
    ask,
    said: said.coffees[0]?.said ?? name,
  };
}

/** Starts that fit every stuck coffee; days on which its roast was refused do not count as roast days. */
async function nearest(
  db: DbOrTransaction,
  workspace: string,
  table: TableNeed,
  stuck: readonly CoffeeReadiness[],
  house: HouseFacts,
  now: Date,
): Promise<readonly FittingStart[]> {
  const refused = new Set<LocalDay>();
  for (const { coffeeId } of stuck) {
    const days = await listRefusedDays(db, workspace, table.setting.tasting.id, coffeeId);
    for (const day of days) refused.add(day);
  }
  const closed = [...refused].map((day) => ({ day, name: 'refused' }));
  const rests = stuck.flatMap(({ coffeeId }) => table.rests.get(coffeeId) ?? []);
  const open = { ...house, closedDays: [...house.closedDays, ...closed] };
  return nearestStarts(now, table.setting.tasting.startsAt, rests, open);
}
