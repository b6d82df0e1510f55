import type { StoredAsk } from '../../domain/record/ask.js';
import type { Tasting } from '../../domain/record/tasting.js';
import { UserError } from '../../runtime/errors.js';
import { findAsk } from '../../store/asks.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { findTasting } from '../../store/tastings.js';
import type { Deps } from '../common/bot.js';
import type { Who } from '../common/intake.js';
import { requireMay, standingOf } from '../common/standing.js';
import type { AskContext } from '../planning/plan-roasts.js';

/** The context of a person's answer, now. */
export async function askContext(db: Db, deps: Deps, who: Who): Promise<AskContext> {
  const house = await loadHouse(db, who.workspace);
  return { workspace: who.workspace, now: deps.clock.now(), who: who.person, house };
}

/** The ask with this id in the person's own workspace. */
export async function requireAsk(db: Db, workspace: string, id: number): Promise<StoredAsk> {
  const ask = await findAsk(db, workspace, id);
  if (ask) return ask;
  throw new UserError('I cannot find that roast ask any more.', 'Type `/spoon ask` to see the open ones.');
}

/** Only those who stand behind the ask, or a steward, handle what the roaster answered. */
export async function requireAsker(db: Db, context: AskContext, ask: StoredAsk): Promise<readonly Tasting[]> {
  const own: Tasting[] = [];
  for (const { tastingId } of ask.wanted) {
    const tasting = await findTasting(db, context.workspace, tastingId);
    if (tasting?.host === context.who) own.push(tasting);
  }
  const behind = own.length > 0 || ask.free.some((entry) => entry.person === context.who);
  requireMay('handle offer', { ...standingOf(context.who, context.house, {}), host: behind });
  return own;
}
