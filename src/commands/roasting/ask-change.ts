import type { Tasting } from '../../domain/record/tasting.js';
import { type AskChange, changeAsk } from '../../domain/roast/roast-ask.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { AskDetail } from '../../store/ask-history.js';
import { findAsk, type StoredAsk, updateAsk } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { findTasting } from '../../store/tastings.js';
import type { Deps } from '../common/bot.js';
import type { Who } from '../common/intake.js';
import { requireMay, standingOf } from '../common/standing.js';
import { type AskContext, touchAsk } from '../planning/ask-settle.js';
import { replanRoasts } from '../planning/plan-roasts.js';

/** The context of a person's answer, now. */
export async function askContext(db: DbOrTransaction, deps: Deps, who: Who): Promise<AskContext> {
  const house = await loadHouse(db, who.workspace);
  return { workspace: who.workspace, now: deps.clock.now(), who: who.person, house };
}

/** The ask with this id in the person's own workspace. */
export async function requireAsk(db: DbOrTransaction, workspace: string, id: number): Promise<StoredAsk> {
  const ask = await findAsk(db, workspace, id);
  if (ask) return ask;
  throw new KindRefusal(
    'not found',
    'I cannot find that roast ask any more.',
    'Type `/spoon ask` to see the open ones.',
  );
}

/** Only the roaster it was sent to, the house's roaster, or a steward answers. */
export function requireRoaster(context: AskContext, ask: StoredAsk): void {
  const roaster = context.who === context.house.roasterPerson ? context.who : ask.roaster;
  requireMay('answer ask', standingOf(context.who, context.house, { roaster }));
}

/** Only those who stand behind the ask, or a steward, handle what the roaster answered. */
export async function requireAsker(
  db: DbOrTransaction,
  context: AskContext,
  ask: StoredAsk,
): Promise<readonly Tasting[]> {
  const own: Tasting[] = [];
  for (const { tastingId } of ask.wanted) {
    const tasting = await findTasting(db, context.workspace, tastingId);
    if (tasting?.host === context.who) own.push(tasting);
  }
  const behind = own.length > 0 || ask.free.some((entry) => entry.person === context.who);
  requireMay('handle offer', { ...standingOf(context.who, context.house, {}), host: behind });
  return own;
}

/**
 * Makes one change of an ask as the rules of the trade allow it, and plans the roasts anew. A second tap
 * changes nothing; a change that came too late is refused with where the ask stands.
 */
export async function makeChange(
  trx: DbOrTransaction,
  context: AskContext,
  ask: StoredAsk,
  change: AskChange,
  detail: Omit<AskDetail, 'what'> = {},
  values: { readonly roast_id?: number; readonly reason?: string } = {},
): Promise<boolean> {
  const next = changeAsk(ask, change);
  if (!next.ok) throw new KindRefusal('not now', next.message, 'Type `/spoon ask` to see the open ones.');
  if (!next.changed) return false;
  const { state, roastDay, offeredDay } = next.ask;
  await updateAsk(
    trx,
    context.workspace,
    ask,
    { state, roast_day: roastDay, offered_day: offeredDay, ...values },
    { who: context.who, at: context.now, detail: { day: roastDay, ...detail, what: change.kind } },
  );
  await touchAsk(trx, context, ask.id);
  await replanRoasts(trx, context);
  return true;
}
