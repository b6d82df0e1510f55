import { createHash } from 'node:crypto';
import { z } from 'zod';
import type { Lot } from '../../domain/record/coffee.js';
import { may } from '../../domain/record/permission.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { hasNotBegun, tastingName } from '../../domain/record/tasting.js';
import { POURS_TO_COME } from '../../domain/table/coffee-needs.js';
import { tableSheet } from '../../domain/table/table-sheet.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { type Db, inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listLots, listReservationsOf } from '../../store/shelf.js';
import { latestPrint, recordPrint } from '../../store/tasting-records.js';
import type { Answer, Deps } from '../common/bot.js';
import { Id, readValue, type Tap, type Who } from '../common/intake.js';
import { requireTableAt } from '../common/load-table.js';
import { standingOf } from '../common/standing.js';
import { isHidden } from '../common/table-view.js';
import { printedMessage, type SheetView } from './table-sheet-messages.js';

/** The table sheet as this person may see it; tasters are named by mention. */
export async function loadSheet(db: Db, who: Who, setting: TableSetting): Promise<SheetView> {
  const house = await loadHouse(db, who.workspace);
  const { tasting } = setting;
  const standing = standingOf(who.person, house, { tasting });
  const sheet = tableSheet(
    {
      name: tastingName(tasting),
      blendName: setting.recipe.name,
      host: `<@${tasting.host}>`,
      start: tasting.startsAt,
      format: tasting.format,
      blind: tasting.blind,
      tables: tasting.tables,
      seed: tasting.seed,
      tasters: tasting.invited.map((person) => `<@${person}>`),
      cups: setting.cups,
      coffees: [...setting.coffees.values()],
      poursToCome: POURS_TO_COME,
      roasted: await lotsHeldBy(db, who.workspace, tasting.id),
    },
    house,
  );
  return {
    tastingId: tasting.id,
    sheet,
    units: house.unitSystem,
    open: !isHidden(setting) || may('see codes', standing),
    canOpenTable: hasNotBegun(tasting) && may('open table', standing),
  };
}

/** The lots that a table holds on the shelf; none once they have been used. */
async function lotsHeldBy(db: Db, workspace: string, tastingId: number): Promise<readonly Lot[]> {
  const held = new Set((await listReservationsOf(db, tastingId)).map((row) => row.lotId));
  return (await listLots(db, workspace)).filter((lot) => held.has(lot.id));
}

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
      throw new UserError(
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
