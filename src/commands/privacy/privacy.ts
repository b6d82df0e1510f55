import { markChanged } from '../../store/changed.js';
import { findNotice } from '../../store/notices.js';
import { eraseOwnData, ownTables } from '../../store/own-data.js';
import { forgetOnDisk } from '../../store/sqlite/disk.js';
import { findDigest } from '../../store/tasting-records.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer, Deps, Feature } from '../common/bot.js';
import type { Tap, Who } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { writeDigest } from '../deciding/write-digest.js';
import { noticesOfOwnData } from './privacy-file.js';
import { erasedForm, onItsWay, ownDataForm } from './privacy-messages.js';

/** What the bot keeps of a person, theirs alone to see, to take with them and to erase. */
export const privacy: Feature = {
  verb: null,
  taps: {
    'privacy.mine': { for: 'see own data', run: ownDataTap },
    'privacy.export': { for: 'see own data', run: exportTap },
    'privacy.erase': { for: 'see own data', run: eraseTap },
  },
  forms: {},
  subjects: { mine: { notices: noticesOfOwnData } },
};

/** What is kept of this person, and what they can do about it; it is always their own. */
export async function openOwnData(deps: Deps, who: Who): Promise<Answer> {
  return { form: ownDataForm(await countsOf(deps, who)) };
}

/** The button in the note form. */
async function ownDataTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { form } = await openOwnData(deps, tap.who);
  return tap.form && form ? { pushForm: form } : { ...(form ? { form } : {}) };
}

/** Sends the person their own notes as a file, in direct messages. */
async function exportTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { workspace, person } = tap.who;
  const counts = await countsOf(deps, tap.who);
  if (counts.notes === 0) return shown(tap, ownDataForm(counts));
  const now = deps.clock.now();
  await markChanged(deps.db, workspace, `mine:${person}:${now.getTime()}`, now);
  return shown(tap, onItsWay());
}

/** Erases what the person wrote, works everything out anew, and has the file on disk forget it, too. */
async function eraseTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { workspace, person } = tap.who;
  const now = deps.clock.now();
  const erased = await inTransaction(deps.db, async (trx) => {
    const result = await eraseOwnData(trx, tap.who, now);
    for (const id of result.noteIds) await markChanged(trx, workspace, `note:${id}`, now);
    for (const { tastingId } of result.tables) {
      // A posted digest must not go on quoting or counting them; the decision stays its host's.
      const { tasting } = await requireTable(trx, workspace, tastingId);
      if (await findDigest(trx, tastingId))
        await writeDigest(trx, { workspace, person: tasting.host }, tastingId, now);
      await markChanged(trx, workspace, `tasting:${tastingId}`, now);
    }
    await markChanged(trx, workspace, `mine:${person}:${now.getTime()}`, now);
    // The home tab quotes notes that name no cup.
    if (await findNotice(trx, workspace, `home:${person}`))
      await markChanged(trx, workspace, `person:${person}`, now);
    return result;
  });
  await forgetOnDisk(deps.db);
  const notes = erased.tables.reduce((sum, table) => sum + table.notes, 0);
  return shown(tap, erasedForm({ notes, tables: erased.tables.length }));
}

async function countsOf(deps: Deps, who: Who) {
  const tables = await ownTables(deps.db, who);
  return { notes: tables.reduce((sum, table) => sum + table.notes, 0), tables: tables.length };
}

function shown(tap: Tap, form: ReturnType<typeof onItsWay>): Answer {
  return tap.form ? { replaceForm: form } : { form };
}
