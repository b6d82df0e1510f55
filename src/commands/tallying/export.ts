import { tableExport } from '../../domain/export/table-export.js';
import { tastingName } from '../../domain/record/tasting.js';
import { say } from '../../kit/blocks.js';
import type { Notice } from '../../kit/notice.js';
import { markChanged } from '../../store/changed.js';
import { inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listReadNotes } from '../../store/readings.js';
import { findExport, recordExport } from '../../store/tasting-records.js';
import type { Answer, Deps } from '../common/bot.js';
import type { Who } from '../common/intake.js';
import { requireOpened, requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { loadResult } from '../common/table-notes.js';
import { isHidden } from '../common/table-view.js';
import { exportNotices } from './export-message.js';

/**
 * Has everything the table found written to files: in the table's thread once it is closed, before that with the
 * host alone, as notes are written before anyone sees what others found.
 */
export async function exportTable(deps: Deps, who: Who, tastingId: number): Promise<Answer> {
  const now = deps.clock.now();
  return inTransaction(deps.db, async (trx) => {
    const setting = await requireTable(trx, who.workspace, tastingId);
    const { tasting } = setting;
    const standing = standingOf(who.person, await loadHouse(trx, who.workspace), setting);
    requireMay('show tally', standing, tasting);
    requireOpened(tasting, ', so there is nothing to export');
    if (isHidden(setting)) requireMay('see codes', standing, tasting);
    const to = tasting.state === 'open' ? 'host' : 'thread';
    const id = await recordExport(trx, { id: tasting.id, workspace: who.workspace }, to, {
      who: who.person,
      at: now,
    });
    await markChanged(trx, who.workspace, `export:${id}`, now);
    const where =
      to === 'thread'
        ? 'in its thread'
        : `with <@${tasting.host}> alone, in direct messages: the table is still tasting`;
    return {
      message: say(
        `The export of *${tastingName(tasting)}* is on its way: tally, notes, placings and standings as CSV, and all of it as JSON, ${where}. Tasters stand in it as numbers.`,
      ),
    };
  });
}

/** The files of one export, as the table stands when they are written. */
export async function noticesOfExport(deps: Deps, workspace: string, id: number): Promise<readonly Notice[]> {
  const asked = await findExport(deps.db, workspace, id);
  if (!asked) return [];
  const setting = await requireTable(deps.db, workspace, asked.tastingId);
  const result = await loadResult(deps.db, workspace, setting);
  const notes = await listReadNotes(deps.db, asked.tastingId);
  return exportNotices(setting.tasting, asked, tableExport(setting, result, notes));
}
