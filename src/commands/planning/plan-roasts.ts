import { type Ask, LIVE_ASKS } from '../../domain/record/ask.js';
import type { Tasting } from '../../domain/record/tasting.js';
import { LIVE_STATES } from '../../domain/record/tasting.js';
import { type PlanState, planRoasts } from '../../domain/roast/plan-roasts.js';
import type { AskChange } from '../../domain/roast/roast-ask.js';
import type { AskDetail } from '../../store/asks.js';
import { askSubject, listAsks } from '../../store/asks.js';
import { markChanged } from '../../store/changed.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listHeld, setReservations, useReserved } from '../../store/shelf.js';
import { SHELF_LOST } from '../../store/tasting-records.js';
import { findTasting, listTastings, updateTasting } from '../../store/tastings.js';
import { changeTasting } from '../common/change-tasting.js';
import { loadPlanState, loadReadiness, loadTableNeed, type TableReadiness } from './load-plan.js';
import { type AskContext, markTable, type PlanContext, storeAskChange, storeAsks } from './store-asks.js';

/**
 * Plans the roasts of one tasting after anything about it changed; call it inside that change's transaction.
 * It works from state alone: planning twice changes nothing the second time.
 *
 * @param again the coffee whose roast its host asks for again although it was declined or given up
 */
export async function planTableRoasts(
  trx: Db,
  context: PlanContext,
  tastingId: number,
  again: { readonly coffeeId: number } | null = null,
): Promise<TableReadiness> {
  await replanRoasts(trx, context, again ? { tastingId, ...again } : null);
  await markTable(trx, context, tastingId);
  const tasting = await findTasting(trx, context.workspace, tastingId);
  if (!tasting) throw new Error(`no tasting ${tastingId} to plan roasts for`);
  return loadReadiness(trx, context.workspace, tasting, context.now);
}

/** Plans every booked table anew: after the shelf, a coffee, a roast or the house changed. */
export async function replanRoasts(
  trx: Db,
  context: PlanContext,
  again: PlanState['again'] = null,
): Promise<void> {
  const { workspace, now } = context;
  const house = await loadHouse(trx, workspace);
  await releaseShelf(trx, context);
  const state = await loadPlanState(trx, workspace, house, now, again);
  await storePlan(trx, { ...context, house }, state);
}

/** Makes one change of an ask, and plans every booked table anew when that changed anything. */
export async function changeAskAndPlan(
  trx: Db,
  context: AskContext,
  ask: Ask,
  change: AskChange,
  detail: Partial<AskDetail> = {},
): Promise<void> {
  if (await storeAskChange(trx, context, ask, change, detail)) await replanRoasts(trx, context);
}

/**
 * As `replanRoasts`, and everything that shows the shelf's coffees is worked out again: their names and
 * weights may have changed although the plan stands.
 */
export async function replanShelf(trx: Db, context: PlanContext): Promise<void> {
  const { workspace, now } = context;
  await replanRoasts(trx, context);
  for (const tasting of await listTastings(trx, workspace, LIVE_STATES)) {
    await markChanged(trx, workspace, `tasting:${tasting.id}`, now);
  }
  for (const ask of await listAsks(trx, workspace, LIVE_ASKS)) {
    await markChanged(trx, workspace, askSubject(ask.id), now);
  }
}

/** A table that closed has used its coffee: takes it off the shelf and frees the rest. */
export async function useTableCoffee(trx: Db, context: PlanContext, tastingId: number): Promise<void> {
  const tasting = await findTasting(trx, context.workspace, tastingId);
  if (!tasting) return;
  const house = await loadHouse(trx, context.workspace);
  const { needs } = await loadTableNeed(trx, context.workspace, tasting, house);
  const used = new Map(needs.map((need) => [need.coffeeId, need.tableMg + need.purgeMg]));
  await useReserved(trx, context.workspace, tastingId, used, context.now);
}

/** Tables that closed have used their coffee, and cancelled ones hold none. */
async function releaseShelf(trx: Db, context: PlanContext): Promise<void> {
  const ended = new Map<number, Tasting['state']>();
  for (const { tastingId, state } of await listHeld(trx, context.workspace)) ended.set(tastingId, state);
  for (const [id, state] of ended) {
    if (state === 'closed' || state === 'decided') await useTableCoffee(trx, context, id);
    if (state === 'cancelled') await setReservations(trx, context.workspace, id, new Map(), context.now);
  }
}

/** Stores what the plan says: what each table holds, the asks, what tables lost to others, who is ready. */
async function storePlan(trx: Db, context: AskContext, state: PlanState): Promise<void> {
  const { workspace, now: at, who } = context;
  const plan = planRoasts(state);
  const changed = new Set<number>();
  for (const [tastingId, wanted] of plan.reserved) {
    if (await setReservations(trx, workspace, tastingId, wanted, at)) changed.add(tastingId);
  }
  await storeAsks(trx, context, plan.asks);
  for (const { tastingId: id, ...detail } of plan.lost) {
    await updateTasting(trx, { id, workspace }, {}, { who, at, change: SHELF_LOST, detail });
    changed.add(id);
  }
  for (const { tasting, change } of plan.tastings) {
    await changeTasting(trx, context, tasting, change);
    changed.add(tasting.id);
  }
  for (const step of plan.asks) for (const said of step.said) if (said.tasting) changed.add(said.tasting);
  for (const id of changed) await markTable(trx, context, id);
}
