import type { RestDays } from '../../domain/house/rest-window.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { type ChosenRoastDay, chooseRoastDay, type RoastDay } from '../../domain/roast/roast-day.js';
import { listRefusedDays } from '../../store/ask-history.js';
import { insertAsk, listAsks, listAsksFor, type StoredAsk, setWanted, updateAsk } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { chargeFor } from './ask-charge.js';
import { type AskContext, LIVE_ASKS, settleAsk, touchAsk, wantedMg } from './ask-settle.js';
import { type Candidate, type Placement, place, type Wish } from './plan-roasts-place.js';
import type { TableNeed } from './plan-roasts-supply.js';

/**
 * Brings the asks of one table for one coffee in line with what the shelf leaves short: none, fewer, more
 * or on another day. Nothing is written when all is as it should be.
 *
 * @param again ask for a day although it was declined or given up: the host said so
 */
export async function syncAsks(
  trx: DbOrTransaction,
  context: AskContext,
  table: TableNeed,
  coffee: Coffee,
  shortMg: number,
  again: boolean,
): Promise<void> {
  const { tasting } = table.setting;
  const rest = table.rests.get(coffee.id);
  if (!rest) return;
  const live = await listAsks(trx, context.workspace, LIVE_ASKS, coffee.id);
  const own = live.some((ask) => ask.wanted.some((entry) => entry.tastingId === tasting.id));
  if (shortMg === 0 && !own) return;
  const refused = again
    ? new Set<string>()
    : await listRefusedDays(trx, context.workspace, tasting.id, coffee.id);
  const wish: Wish = {
    tastingId: tasting.id,
    host: tasting.host,
    roaster: context.house.roasterPerson ?? tasting.host,
    tableDay: table.tableDay,
    rest,
    shortMg,
    chosen: chosenDay(context, tasting.startsAt, rest),
    refused,
  };
  const candidates: Candidate[] = [];
  for (const ask of live) candidates.push(await candidate(trx, context, coffee, ask, wish));
  await apply(trx, context, coffee, wish, live, place(wish, candidates));
}

/** The roast day, with a reason that stays true: how short the notice is, the ask itself keeps. */
function chosenDay(context: AskContext, start: Date, rest: RestDays): ChosenRoastDay {
  const chosen = chooseRoastDay(context.now, start, rest, { ...context.house, noticeDays: 0 });
  if (!chosen.ok) return chosen;
  const favour = chosen.roastDay.noticeDays < context.house.noticeDays;
  return { ok: true, roastDay: { ...chosen.roastDay, favour } };
}

/** Takes a table off every live ask of a coffee it no longer needs. */
export async function leaveAsks(
  trx: DbOrTransaction,
  context: AskContext,
  tastingId: number,
  keep: ReadonlySet<number>,
): Promise<void> {
  for (const ask of await listAsksFor(trx, context.workspace, tastingId)) {
    if (!keep.has(ask.coffeeId) && LIVE_ASKS.includes(ask.state)) await leave(trx, context, ask, tastingId);
  }
}

/** The ask as it would be without this table. What the host asked for without a table counts as over. */
async function candidate(
  trx: DbOrTransaction,
  context: AskContext,
  coffee: Coffee,
  ask: StoredAsk,
  wish: Wish,
): Promise<Candidate> {
  const own = ask.wanted.find((entry) => entry.tastingId === wish.tastingId)?.mg ?? 0;
  const free = ask.free.find((entry) => entry.person === wish.host)?.mg ?? 0;
  const othersMg = wantedMg(ask) - own;
  if (ask.state === 'accepted') return { ask, othersMg, spareMg: ask.roastedMg - othersMg - own + free };
  if (othersMg === 0) return { ask, othersMg, spareMg: 0 };
  const charge = await chargeFor(trx, context.workspace, coffee, context.house, othersMg);
  return { ask, othersMg, spareMg: charge.overMg + free };
}

async function apply(
  trx: DbOrTransaction,
  context: AskContext,
  coffee: Coffee,
  wish: Wish,
  live: readonly StoredAsk[],
  placement: Placement,
): Promise<void> {
  const mine = live.filter((ask) => ask.wanted.some((entry) => entry.tastingId === wish.tastingId));
  const leaving = mine.filter((ask) => !placement.shares.has(ask.id));
  const reused = placement.fresh
    ? leaving.find(
        (ask) =>
          ask.state === 'asked' &&
          ask.roaster === wish.roaster &&
          ask.free.length === 0 &&
          ask.wanted.length === 1,
      )
    : undefined;
  for (const ask of leaving) if (ask !== reused) await leave(trx, context, ask, wish.tastingId);
  for (const ask of live) {
    const mg = placement.shares.get(ask.id);
    if (mg !== undefined) await share(trx, context, ask, wish, mg);
  }
  if (!placement.fresh) return;
  const { day, mg } = placement.fresh;
  if (reused) await replan(trx, context, reused, wish, day, mg);
  else await insert(trx, context, coffee, wish, day, mg);
}

async function leave(
  trx: DbOrTransaction,
  context: AskContext,
  ask: StoredAsk,
  tastingId: number,
): Promise<void> {
  await setWanted(trx, ask.id, tastingId, 0);
  await settleAsk(trx, context, ask.id, { what: 'freed', tasting: tastingId, day: ask.roastDay });
}

/** Sets this table's share; what is more than before comes first from what its host asked for without a table. */
async function share(
  trx: DbOrTransaction,
  context: AskContext,
  ask: StoredAsk,
  wish: Wish,
  mg: number,
): Promise<void> {
  const before = ask.wanted.find((entry) => entry.tastingId === wish.tastingId)?.mg ?? 0;
  if (before === mg) return;
  await setWanted(trx, ask.id, wish.tastingId, mg);
  const own = ask.free.find((entry) => entry.person === wish.host)?.mg ?? 0;
  const fromFree = Math.min(own, Math.max(0, mg - before));
  await settleFree(trx, context, ask, wish, own, fromFree);
  const what = before === 0 ? 'joined' : 'grams';
  await settleAsk(trx, context, ask.id, { what, tasting: wish.tastingId, day: ask.roastDay });
}

async function settleFree(
  trx: DbOrTransaction,
  context: AskContext,
  ask: StoredAsk,
  wish: Wish,
  ownMg: number,
  usedMg: number,
): Promise<void> {
  if (usedMg === 0) return;
  const free = { person: wish.host, mg: ownMg - usedMg };
  const detail = { what: 'free grams', free, tasting: wish.tastingId };
  await updateAsk(trx, context.workspace, ask, {}, { who: context.who, at: context.now, detail });
}

async function replan(
  trx: DbOrTransaction,
  context: AskContext,
  ask: StoredAsk,
  wish: Wish,
  day: RoastDay,
  mg: number,
): Promise<void> {
  const same = ask.roastDay === day.day && ask.wanted[0]?.mg === mg;
  if (same) return;
  const values = { roast_day: day.day, favour: day.favour ? 1 : 0, reason: day.reason };
  const detail = { what: 'replan', day: day.day, tasting: wish.tastingId };
  await updateAsk(trx, context.workspace, ask, values, { who: context.who, at: context.now, detail });
  await setWanted(trx, ask.id, wish.tastingId, mg);
  await settleAsk(trx, context, ask.id, { what: 'grams', tasting: wish.tastingId, day: day.day });
}

async function insert(
  trx: DbOrTransaction,
  context: AskContext,
  coffee: Coffee,
  wish: Wish,
  day: RoastDay,
  mg: number,
): Promise<void> {
  const charge = await chargeFor(trx, context.workspace, coffee, context.house, mg);
  const id = await insertAsk(
    trx,
    {
      workspace: context.workspace,
      coffee_id: coffee.id,
      roaster: wish.roaster,
      roasted_mg: charge.roastedMg,
      green_mg: charge.greenMg,
      loss_bp: charge.lossBp,
      drum: charge.drum,
      over_mg: charge.overMg,
      roast_day: day.day,
      offered_day: null,
      favour: day.favour ? 1 : 0,
      reason: day.reason,
      roast_id: null,
    },
    { who: context.who, at: context.now, detail: { what: 'asked', tasting: wish.tastingId, day: day.day } },
  );
  await setWanted(trx, id, wish.tastingId, mg);
  await touchAsk(trx, context, id);
}
