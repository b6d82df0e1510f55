import { z } from 'zod';
import type { StoredAsk } from '../../domain/record/ask.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { UserError } from '../../runtime/errors.js';
import { findAsk } from '../../store/asks.js';
import { findCoffee } from '../../store/coffees.js';
import { type Db, inTransaction } from '../../store/db.js';
import type { Deps } from '../common/bot.js';
import { Id, readValue, type Who } from '../common/intake.js';
import { type AskContext, askContext } from '../planning/plan-roasts.js';

const AskValue = z.object({ ask: Id });

/** An ask that somebody answers, inside the transaction of the answer. */
export type OpenAsk = {
  readonly trx: Db;
  readonly context: AskContext;
  readonly ask: StoredAsk;
  readonly coffee: Coffee;
};

/** The ask that a tap or form of the person's own workspace is about, in one transaction. */
export async function onAsk<T>(
  deps: Deps,
  who: Who,
  json: string,
  run: (open: OpenAsk) => Promise<T>,
): Promise<T> {
  const { ask: id } = readValue(AskValue, json);
  return inTransaction(deps.db, async (trx) => {
    const ask = await findAsk(trx, who.workspace, id);
    const coffee = ask && (await findCoffee(trx, who.workspace, ask.coffeeId));
    if (ask && coffee) return run({ trx, context: await askContext(trx, deps, who), ask, coffee });
    throw new UserError('I cannot find that roast ask any more.', 'Type `/spoon ask` to see the open ones.');
  });
}
