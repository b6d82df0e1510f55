import type { Tasting } from '../../domain/record/tasting.js';
import type { FittingStart } from '../../domain/roast/roast-day.js';
import { listAsksFor } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listHeld, setReservations, useReserved } from '../../store/reservations.js';
import { findTasting } from '../../store/tastings.js';
import { changeTasting } from '../common/change-tasting.js';
import { loadTable } from '../common/load-table.js';
import { type AskContext, touchTable } from './ask-settle.js';
import { leaveAsks, syncAsks } from './plan-roasts-asks.js';
import { keepLost } from './plan-roasts-lost.js';
import { type CoffeeReadiness, coffeesAt, enough, heldByCoffee, readinessOf } from './plan-roasts-ready.js';
import { loadSupply, type Supply, type TableNeed, tableNeed } from './plan-roasts-supply.js';

export type PlanContext = { readonly workspace: string; readonly now: Date; readonly who: string };

/** How a table stands after planning: each coffee with one sentence, and dates that would fit when one is stuck. */
export type RoastPlan = {
  readonly tastingId: number;
  readonly ready: boolean;
  readonly coffees: readonly CoffeeReadiness[];
  readonly nearest: readonly FittingStart[];
};

/** The coffee whose roast a host asks for again although it was declined or given up. */
export type AskAgain = { readonly coffeeId: number };

/**
 * Plans the roasts of one tasting after anything about it changed; call it inside that change's transaction.
 * The shelf is shared out over all booked tables, first booked, first served, and every table's asks follow
 * what it is left short of. It works from state alone: planning twice changes nothing the second time.
 */
export async function planRoasts(
  trx: DbOrTransaction,
  context: PlanContext,
  tastingId: number,
  again: AskAgain | null = null,
): Promise<RoastPlan> {
  const tasting = await findTasting(trx, context.workspace, tastingId);
  if (!tasting) throw new Error(`no tasting ${tastingId} to plan roasts for`);
  if (tasting.state !== 'booked' && tasting.state !== 'ready') await leaveTable(trx, context, tasting);
  await replanRoasts(trx, context, again ? { tastingId, ...again } : null);
  await touchTable(trx, context, tastingId);
  const after = (await findTasting(trx, context.workspace, tastingId)) ?? tasting;
  const { ready, coffees, nearest } = await readinessOf(trx, context.workspace, after, context.now);
  return { tastingId, ready, coffees, nearest };
}

/** Plans every booked table anew: after the shelf, a coffee, a roast or the house changed. */
export async function replanRoasts(
  trx: DbOrTransaction,
  context: PlanContext,
  again: (AskAgain & { readonly tastingId: number }) | null = null,
): Promise<void> {
  const house = await loadHouse(trx, context.workspace);
  const full: AskContext = { ...context, house };
  await endHeld(trx, full);
  const supply = await loadSupply(trx, context.workspace);
  for (const table of supply.tables) await keepReserved(trx, full, supply, table);
  for (const table of supply.tables) {
    const coffee = again?.tastingId === table.setting.tasting.id ? again.coffeeId : null;
    await keepAsks(trx, full, table, coffee);
    await keepLost(trx, full, supply, table);
    await keepState(trx, full, table);
  }
}

/** A table that closed has used its coffee: takes it off the shelf and frees the rest. */
export async function useTableCoffee(
  trx: DbOrTransaction,
  context: PlanContext,
  tastingId: number,
): Promise<void> {
  const tasting = await findTasting(trx, context.workspace, tastingId);
  if (!tasting) return;
  const house = await loadHouse(trx, context.workspace);
  const { needs } = tableNeed(await loadTable(trx, context.workspace, tasting), house);
  const used = new Map(needs.map((need) => [need.coffeeId, need.tableMg + need.purgeMg]));
  await useReserved(trx, context.workspace, tastingId, used, context.now);
}

/** A table that is no longer booked frees its asks, and what it holds too when it was cancelled. */
async function leaveTable(trx: DbOrTransaction, context: PlanContext, tasting: Tasting): Promise<void> {
  const house = await loadHouse(trx, context.workspace);
  await leaveAsks(trx, { ...context, house }, tasting.id, new Set());
  if (tasting.state === 'cancelled') {
    await setReservations(trx, context.workspace, tasting.id, new Map(), context.now);
  }
  await touchTable(trx, context, tasting.id);
}

async function endHeld(trx: DbOrTransaction, context: AskContext): Promise<void> {
  const held = await listHeld(trx, context.workspace);
  const done = held.filter((row) => row.state === 'closed' || row.state === 'decided');
  for (const id of new Set(done.map((row) => row.tastingId))) await useTableCoffee(trx, context, id);
  const cancelled = held.filter((row) => row.state === 'cancelled');
  for (const id of new Set(cancelled.map((row) => row.tastingId))) {
    await setReservations(trx, context.workspace, id, new Map(), context.now);
  }
}

async function keepReserved(
  trx: DbOrTransaction,
  context: AskContext,
  supply: Supply,
  table: TableNeed,
): Promise<void> {
  const { id } = table.setting.tasting;
  const own = supply.shared.reserved.filter((entry) => entry.tastingId === id);
  const wanted = new Map(own.map((entry) => [entry.lotId, entry.mg]));
  const changed = await setReservations(trx, context.workspace, id, wanted, context.now);
  if (changed) await touchTable(trx, context, id);
}

async function keepAsks(
  trx: DbOrTransaction,
  context: AskContext,
  table: TableNeed,
  again: number | null,
): Promise<void> {
  const { tasting, coffees } = table.setting;
  await leaveAsks(trx, context, tasting.id, new Set(table.needs.map((need) => need.coffeeId)));
  const held = await heldByCoffee(trx, context.workspace, tasting.id);
  const asks = await listAsksFor(trx, context.workspace, tasting.id);
  for (const need of table.needs) {
    const coffee = coffees.get(need.coffeeId);
    if (!coffee) continue;
    const heldMg = held.get(coffee.id) ?? 0;
    const own = asks.filter((ask) => ask.coffeeId === coffee.id);
    const shortMg = enough(need, heldMg, table.spareMg, own) ? 0 : need.totalMg - heldMg;
    await syncAsks(trx, context, table, coffee, shortMg, again === coffee.id);
  }
}

/** A tasting is ready exactly while all its coffees are on the shelf. */
async function keepState(trx: DbOrTransaction, context: AskContext, table: TableNeed): Promise<void> {
  const { tasting } = table.setting;
  const coffees = await coffeesAt(trx, context.workspace, table);
  const ready = coffees.every((coffee) => coffee.state === 'on the shelf');
  const changed = await changeTasting(trx, context, tasting, ready ? 'make ready' : 'unready');
  if (!changed) return;
  await touchTable(trx, context, tasting.id);
}
