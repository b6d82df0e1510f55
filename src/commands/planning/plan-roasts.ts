import type { HouseFacts } from '../../domain/house/house-facts.js';
import { type Ask, type AskDetail, LIVE_ASKS, type StoredAsk, wantedBy } from '../../domain/record/ask.js';
import { LIVE_STATES, type Tasting } from '../../domain/record/tasting.js';
import type { AskStep } from '../../domain/roast/place-roast.js';
import { type PlanState, planRoasts } from '../../domain/roast/plan-roasts.js';
import { askMoments } from '../../domain/roast/reminders.js';
import { type AskChange, changeAsk } from '../../domain/roast/roast-ask.js';
import { UserError } from '../../runtime/errors.js';
import {
  askSubject,
  findAsk,
  insertAsk,
  listAskChanges,
  listAskIdsFor,
  listAsks,
  setWanted,
  updateAsk,
} from '../../store/asks.js';
import { markChanged } from '../../store/changed.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { cancelReminders, setReminder } from '../../store/reminders.js';
import { listHeld, setReservations, useReserved } from '../../store/shelf.js';
import { SHELF_LOST } from '../../store/tasting-records.js';
import { findTasting, listTastings, updateTasting } from '../../store/tastings.js';
import type { Deps } from '../common/bot.js';
import { changeTasting } from '../common/change-tasting.js';
import type { Who } from '../common/intake.js';
import { requireMay, standingOf } from '../common/standing.js';
import { loadPlanState, loadReadiness, loadTableNeed, type TableReadiness } from './load-plan.js';

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
  const asked = { ...context, house: await loadHouse(trx, context.workspace) };
  await releaseShelf(trx, context);
  await storePlan(trx, asked, await loadPlanState(trx, asked, again));
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
  const { needs } = await loadTableNeed(trx, { ...context, house }, tasting);
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

/** Whose change it is and when. */
type PlanContext = { readonly workspace: string; readonly now: Date; readonly who: string };

/** Whose change it is, when, and the house it happens in. */
export type AskContext = PlanContext & { readonly house: HouseFacts };

/** The context of a person's answer, now. */
export async function askContext(db: Db, deps: Deps, who: Who): Promise<AskContext> {
  const house = await loadHouse(db, who.workspace);
  return { workspace: who.workspace, now: deps.clock.now(), who: who.person, house };
}

/** Who the history names when nobody did it: time passed. */
export const NOBODY = 'tallyspoon';

/** Only the roaster it was sent to, the house's roaster, or a steward answers. */
export function requireRoaster(context: AskContext, ask: Pick<Ask, 'roaster'>): void {
  const roaster = context.who === context.house.roasterPerson ? context.who : ask.roaster;
  requireMay('answer ask', standingOf(context.who, context.house, { roaster }));
}

/**
 * Makes one change of an ask as the rules of the trade allow it and stores it. A second tap changes nothing; a
 * change that came too late is refused with where the ask stands.
 *
 * @param detail what the history keeps of it besides which change it was and the roast day
 * @param also entries that go before it
 * @returns whether anything changed
 */
export async function storeAskChange(
  trx: Db,
  context: AskContext,
  ask: Ask,
  change: AskChange,
  detail: Partial<AskDetail> = {},
  also: readonly AskDetail[] = [],
): Promise<boolean> {
  const next = changeAsk(ask, change);
  if (!next.ok) throw new UserError(next.message, 'Type `/spoon ask` to see the open ones.');
  const said = [...also, { what: change.kind, day: next.ask.roastDay, ...detail }];
  if (next.changed) await storeAsks(trx, context, [{ before: ask, after: next.ask, said }]);
  return next.changed;
}

/** Stores changes of asks in their order, with their history; what shows them and their reminders follow. */
export async function storeAsks(trx: Db, context: AskContext, steps: readonly AskStep[]): Promise<void> {
  const stored = new Map<number, number>();
  for (const step of steps) {
    const known = stored.get(step.after.id) ?? step.after.id;
    stored.set(step.after.id, await storeAsk(trx, context, step, known));
  }
  for (const id of new Set(stored.values())) await markAsk(trx, context, id);
}

async function storeAsk(
  trx: Db,
  { workspace, who, now: at }: AskContext,
  { before, after, said }: AskStep,
  known: number,
): Promise<number> {
  const values = {
    roasted_mg: after.roastedMg,
    green_mg: after.greenMg,
    loss_bp: after.lossBp,
    drum: after.drum,
    over_mg: after.overMg,
    roast_day: after.roastDay,
    offered_day: after.offeredDay,
    favour: after.favour ? 1 : 0,
    reason: after.reason,
    roast_id: after.roastId,
  };
  const entries = [...said];
  const last: AskDetail = entries.pop() ?? { what: after.state };
  if (!before) {
    const asked = { workspace, coffee_id: after.coffeeId, roaster: after.roaster, ...values };
    const id = await insertAsk(trx, asked, { who, at, detail: last });
    for (const { tastingId, mg } of after.wanted) await setWanted(trx, id, tastingId, mg);
    return id;
  }
  const ask = { id: known, state: before.state };
  for (const detail of entries) await updateAsk(trx, workspace, ask, {}, { who, at, detail });
  const greenMg: [number, number] = [before.greenMg, after.greenMg];
  const detail = before.greenMg === after.greenMg ? last : { ...last, greenMg };
  await updateAsk(trx, workspace, ask, { ...values, state: after.state }, { who, at, detail });
  for (const { tastingId } of [...before.wanted, ...after.wanted]) {
    const mg = wantedBy(after, tastingId);
    if (wantedBy(before, tastingId) !== mg) await setWanted(trx, known, tastingId, mg);
  }
  return known;
}

/** What shows this ask is worked out anew, and its reminders follow its state. */
async function markAsk(trx: Db, context: AskContext, askId: number): Promise<void> {
  const { workspace, now } = context;
  const ask = await findAsk(trx, workspace, askId);
  if (!ask) return;
  await syncAskReminders(trx, context, ask);
  const people = new Set([ask.roaster, ask.createdBy, ...ask.free.map((entry) => entry.person)]);
  await markChanged(trx, workspace, askSubject(askId), now);
  for (const { tastingId } of ask.wanted) {
    await markChanged(trx, workspace, `tasting:${tastingId}`, now);
    await markChanged(trx, workspace, shortfallSubject(tastingId), now);
    const tasting = await findTasting(trx, workspace, tastingId);
    if (tasting) people.add(tasting.host);
  }
  people.delete(NOBODY);
  for (const person of people) await markChanged(trx, workspace, `person:${person}`, now);
}

/** The table card, the host's word on what is missing and the asks behind a table are worked out anew. */
export async function markTable(trx: Db, { workspace, now }: PlanContext, tastingId: number): Promise<void> {
  await markChanged(trx, workspace, `tasting:${tastingId}`, now);
  await markChanged(trx, workspace, shortfallSubject(tastingId), now);
  for (const id of await listAskIdsFor(trx, tastingId)) {
    await markChanged(trx, workspace, askSubject(id), now);
  }
}

/** Subject of what a host is told about coffees that are missing at one table. */
function shortfallSubject(tastingId: number): string {
  return `ask:tasting-${tastingId}`;
}

/** Sets an ask's reminders to what its state now asks for; what no longer fits is cancelled. */
async function syncAskReminders(
  db: Db,
  { workspace, now, house }: AskContext,
  ask: StoredAsk,
): Promise<void> {
  const subject = askSubject(ask.id);
  await cancelReminders(db, workspace, subject, now);
  const changes = await listAskChanges(db, workspace, ask.id);
  const since = changes.findLast((change) => change.to === ask.state && change.from !== ask.state)?.at;
  for (const { kind, dueAt } of askMoments({ ...ask, askedAt: since ?? ask.createdAt }, house)) {
    await setReminder(db, { workspace, key: `ask ${ask.id} ${kind}`, subject, kind, dueAt });
  }
}
