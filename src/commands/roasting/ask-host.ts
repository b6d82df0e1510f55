import { z } from 'zod';
import { say } from '../../kit/blocks.js';
import { KindRefusal } from '../../runtime/errors.js';
import { type StoredAsk, setWanted, updateAsk } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer, Deps } from '../common/bot.js';
import { readValue, type Tap } from '../common/intake.js';
import { type AskContext, LIVE_ASKS, settleAsk } from '../planning/ask-settle.js';
import { replanRoasts } from '../planning/plan-roasts.js';
import { AskValue } from './ask-answer.js';
import { askContext, makeChange, requireAsk, requireAsker } from './ask-change.js';

const AgreeValue = AskValue.extend({ day: z.string().nullable().default(null) });

/** A host agrees to the day on offer. Tables that it does not fit are planned anew. */
export async function agreeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { ask: id, day } = readValue(AgreeValue, tap.value);
  return inTransaction(deps.db, async (trx) => {
    const ask = await requireAsk(trx, tap.who.workspace, id);
    const context = await askContext(trx, deps, tap.who);
    await requireAsker(trx, context, ask);
    if (ask.state === 'offered' && day !== null && day !== ask.offeredDay)
      throw new KindRefusal('not now', 'Another day is on offer by now.', 'Look at the newer message.');
    await agree(trx, context, ask);
    return {};
  });
}

/** The day on offer becomes the roast day. */
async function agree(trx: DbOrTransaction, context: AskContext, ask: StoredAsk): Promise<void> {
  const day = ask.offeredDay ?? ask.roastDay;
  await makeChange(trx, context, ask, { kind: 'agree' }, { day }, { reason: '' });
}

/**
 * Whoever stands behind an ask takes their part off it, a steward all of it; when nobody is left it is
 * withdrawn. The same day is not asked for again by itself.
 */
export async function withdrawTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { ask: id } = readValue(AskValue, tap.value);
  return inTransaction(deps.db, async (trx) => {
    const ask = await requireAsk(trx, tap.who.workspace, id);
    const context = await askContext(trx, deps, tap.who);
    const own = await requireAsker(trx, context, ask);
    if (!LIVE_ASKS.includes(ask.state)) {
      await makeChange(trx, context, ask, { kind: 'withdraw' });
      return {};
    }
    const behind = own.length > 0 || ask.free.some((entry) => entry.person === tap.who.person);
    const tables = behind ? own.map((tasting) => tasting.id) : ask.wanted.map((entry) => entry.tastingId);
    const people = behind ? [tap.who.person] : ask.free.map((entry) => entry.person);
    await takeOff(trx, context, ask, tables, people);
    await replanRoasts(trx, context);
    return { message: say('Withdrawn. The roaster’s message says so too.') };
  });
}

async function takeOff(
  trx: DbOrTransaction,
  context: AskContext,
  ask: StoredAsk,
  tables: readonly number[],
  people: readonly string[],
): Promise<void> {
  const { workspace, who, now: at } = context;
  for (const tasting of tables) {
    await setWanted(trx, ask.id, tasting, 0);
    const detail = { what: 'left', tasting, day: ask.roastDay };
    await updateAsk(trx, workspace, ask, {}, { who, at, detail });
  }
  for (const { person } of ask.free.filter((entry) => people.includes(entry.person))) {
    const detail = { what: 'free grams', free: { person, mg: 0 } };
    await updateAsk(trx, workspace, ask, {}, { who, at, detail });
  }
  await settleAsk(trx, context, ask.id, { what: 'withdraw', day: ask.roastDay });
}
