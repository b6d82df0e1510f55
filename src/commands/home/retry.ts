import { z } from 'zod';
import { say } from '../../kit/blocks.js';
import { loadHouse } from '../../store/house.js';
import { reviveStopped } from '../../store/notices.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { Id, readValue } from '../common/values.js';

const Value = z.object({ tasting: Id });

/** The channel takes messages again: what could not be shown about a table is tried once more. */
export async function retryTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { workspace } = tap.who;
  const { tasting } = await requireTable(deps.db, workspace, readValue(Value, tap.value).tasting);
  const house = await loadHouse(deps.db, workspace);
  requireMay('change table', standingOf(tap.who.person, house, { tasting }), tasting);
  const subject = `tasting:${tasting.id}`;
  await inTransaction(deps.db, async (trx) => {
    await reviveStopped(trx, subject, deps.clock.now());
  });
  return { message: say('Trying again. If it still does not work, I say so here.') };
}
