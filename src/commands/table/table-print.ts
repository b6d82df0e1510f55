import { createHash } from 'node:crypto';
import { z } from 'zod';
import { tastingName } from '../../domain/record/tasting.js';
import { KindRefusal } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { latestPrint, recordPrint } from '../../store/prints.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { requireTableAt } from '../common/load-table.js';
import { isHidden } from '../common/table-view.js';
import { Id, readValue } from '../common/values.js';
import { loadSheet } from './load-sheet.js';
import { printedMessage } from './table-sheet-file-message.js';

const PrintValue = z.object({ tasting: Id, again: z.boolean().default(false) });

export async function printTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { tasting, again } = readValue(PrintValue, tap.value);
  return printSheet(deps, tap, tasting, again);
}

/** Has the sheet shared as a PDF: once for each content, and again only when asked for a second time. */
export async function printSheet(
  deps: Deps,
  { who, channel }: Pick<Tap, 'who' | 'channel'>,
  tastingId: number,
  again = false,
): Promise<Answer> {
  const now = deps.clock.now();
  return inTransaction(deps.db, async (trx) => {
    const setting = await requireTableAt(trx, who, channel, tastingId);
    const { tasting } = setting;
    const { open, sheet, units } = await loadSheet(trx, who, setting);
    if (!open)
      throw new KindRefusal(
        'not allowed',
        `${tastingName(tasting)} is blind, and the printed sheet names what is in the cups: only <@${tasting.host}> can print it.`,
        'The clock times and the orders are on the sheet in chat.',
      );
    const to = isHidden(setting) ? 'host' : 'thread';
    const hash = hashOf({ sheet, units, to });
    const before = await latestPrint(trx, tastingId, hash);
    if (before === null || again) {
      const print = { hash, to, content: { sheet, units, madeAt: now.toISOString() } } as const;
      await recordPrint(trx, { id: tastingId, workspace: who.workspace }, print, {
        who: who.person,
        at: now,
      });
      await markChanged(trx, who.workspace, `tasting:${tastingId}`, now);
    }
    return { message: printedMessage(tasting, to, before !== null && !again) };
  });
}

function hashOf(content: unknown): string {
  return createHash('sha256').update(JSON.stringify(content)).digest('hex').slice(0, 16);
}
