import type { HouseFacts } from '../../domain/house/house-facts.js';
import type { AskState } from '../../domain/record/ask.js';
import type { AskDetail } from '../../store/ask-history.js';
import { askSubject, findAsk, listAskIdsFor, type StoredAsk, updateAsk } from '../../store/asks.js';
import { markChanged } from '../../store/changed.js';
import { coffeesById } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findTasting } from '../../store/tastings.js';
import { chargeFor } from './ask-charge.js';
import { syncAskReminders } from './ask-reminders.js';

/** Whose change it is, when, and the house it happens in. */
export type AskContext = {
  readonly workspace: string;
  readonly now: Date;
  readonly who: string;
  readonly house: HouseFacts;
};

/** Who the history names when nobody did it: time passed. */
export const NOBODY = 'tallyspoon';

/** Asks that may still bring coffee. */
export const LIVE_ASKS: readonly AskState[] = ['asked', 'accepted', 'offered'];

/** Roasted milligrams wanted of an ask, over all tables and people. */
export function wantedMg(ask: StoredAsk): number {
  return [...ask.wanted, ...ask.free].reduce((sum, entry) => sum + entry.mg, 0);
}

/**
 * After the wishes behind an ask changed: nobody wants it any more, and it is withdrawn; the charge on the
 * roaster's plan still serves, and only what is over changes; or the charge is worked out anew, and a
 * roaster who had accepted another weight is asked again.
 */
export async function settleAsk(
  trx: DbOrTransaction,
  context: AskContext,
  askId: number,
  detail: AskDetail,
): Promise<void> {
  const ask = await findAsk(trx, context.workspace, askId);
  if (!ask || !LIVE_ASKS.includes(ask.state)) return;
  const total = wantedMg(ask);
  const change = (more: Partial<AskDetail> = {}) => ({
    who: context.who,
    at: context.now,
    detail: { ...detail, ...more },
  });
  if (total === 0) {
    await updateAsk(trx, context.workspace, ask, { state: 'withdrawn', offered_day: null }, change());
  } else if (ask.state === 'accepted' && total <= ask.roastedMg) {
    await updateAsk(trx, context.workspace, ask, { over_mg: ask.roastedMg - total }, change());
  } else {
    const coffee = (await coffeesById(trx, context.workspace, [ask.coffeeId])).get(ask.coffeeId);
    if (!coffee) return;
    const charge = await chargeFor(trx, context.workspace, coffee, context.house, total);
    const values = {
      green_mg: charge.greenMg,
      roasted_mg: charge.roastedMg,
      over_mg: charge.overMg,
      loss_bp: charge.lossBp,
      drum: charge.drum,
    };
    const greenMg: [number, number] = [ask.greenMg, charge.greenMg];
    const again = ask.state === 'accepted' ? { state: 'asked' as const } : {};
    await updateAsk(trx, context.workspace, ask, { ...values, ...again }, change({ greenMg }));
  }
  await touchAsk(trx, context, askId);
}

/** What shows this ask is worked out anew, and its reminders follow its state. */
export async function touchAsk(trx: DbOrTransaction, context: AskContext, askId: number): Promise<void> {
  const { workspace, now } = context;
  const ask = await findAsk(trx, workspace, askId);
  if (!ask) return;
  await syncAskReminders(trx, workspace, ask, context.house, now);
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

/** The table card and the host's word on what is missing follow. */
export async function touchTable(
  trx: DbOrTransaction,
  context: Pick<AskContext, 'workspace' | 'now'>,
  tastingId: number,
): Promise<void> {
  await markChanged(trx, context.workspace, `tasting:${tastingId}`, context.now);
  await markChanged(trx, context.workspace, shortfallSubject(tastingId), context.now);
  for (const id of await listAskIdsFor(trx, tastingId)) {
    await markChanged(trx, context.workspace, askSubject(id), context.now);
  }
}

/** Subject of what a host is told about coffees that are missing at one table. */
function shortfallSubject(tastingId: number): string {
  return `ask:tasting-${tastingId}`;
}
