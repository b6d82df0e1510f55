import type { ModalView } from '@slack/types';
import { understoodSentence } from '../../domain/notes/reading.js';
import { cupName, tastingName } from '../../domain/record/tasting.js';
import { formatWhen } from '../../domain/when/local-day.js';
import type { Notice } from '../../kit/notice.js';
import { markChanged } from '../../store/changed.js';
import { inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listNotes } from '../../store/notes.js';
import { findNotice } from '../../store/notices.js';
import { besideKeys, eraseOwnData, ownTables } from '../../store/own-data.js';
import { forgetOnDisk } from '../../store/sqlite/open.js';
import { findDigest } from '../../store/tasting-records.js';
import type { Answer, Deps, Feature } from '../common/bot.js';
import type { Tap, Who } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { understand } from '../common/table-notes.js';
import { writeDigest } from '../deciding/write-digest.js';
import { erasedForm, type OwnLine, onItsWay, ownDataFile, ownDataForm, untold } from './privacy-messages.js';

/** What the bot keeps of a person, theirs alone to see, to take with them and to erase. */
export const privacy: Feature = {
  verb: null,
  taps: {
    'privacy.mine': { for: 'see own data', run: openOwnData },
    'privacy.export': { for: 'see own data', run: exportTap },
    'privacy.erase': { for: 'see own data', run: eraseTap },
  },
  forms: {},
  subjects: { mine: { notices: noticesOfOwnData } },
};

/** What is kept of this person, and what they can do about it, on top of the form that asks; it is always their own. */
export async function openOwnData(deps: Deps, { who, form }: Pick<Tap, 'who' | 'form'>): Promise<Answer> {
  const ownData = ownDataForm(await countsOf(deps, who));
  return form ? { pushForm: ownData } : { form: ownData };
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
    for (const tastingId of result.tastingIds) {
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
  return shown(tap, erasedForm({ notes: erased.notes, tables: erased.tastingIds.length }));
}

async function countsOf(deps: Deps, who: Who) {
  const tables = await ownTables(deps.db, who);
  return { notes: tables.reduce((sum, table) => sum + table.notes, 0), tables: tables.length };
}

function shown(tap: Tap, form: ModalView): Answer {
  return tap.form ? { replaceForm: form } : { form };
}

/**
 * The file a person asked for; `subject` is "mine:PERSON:INSTANT", once for each time they ask. When nothing
 * of theirs is left, what they were told about it goes, too.
 */
async function noticesOfOwnData(deps: Deps, workspace: string, subject: string): Promise<readonly Notice[]> {
  const person = subject.split(':')[1] ?? '';
  const { timeZone } = await loadHouse(deps.db, workspace);
  const tables = [];
  for (const { tastingId } of await ownTables(deps.db, { workspace, person })) {
    const setting = await requireTable(deps.db, workspace, tastingId);
    const { tasting, recipe } = setting;
    const notes: OwnLine[] = [];
    for (const note of await listNotes(deps.db, tastingId, person)) {
      const cup = setting.cups.find((held) => held.id === (note.chosenCupId ?? note.homeCupId));
      notes.push({
        when: formatWhen(note.receivedAt, timeZone),
        cup: cup ? cupName(cup) : null,
        late: note.late,
        text: note.text,
        understood: understoodSentence(await understand(deps.db, workspace, setting, note)),
      });
    }
    tables.push({
      title: `${tastingName(tasting)}, ${recipe.name}, ${formatWhen(tasting.startsAt, timeZone)}`,
      notes,
    });
  }
  if (tables.length === 0) return untold(await besideKeys(deps.db, { workspace, person }), person);
  return [ownDataFile(subject, person, tables, formatWhen(deps.clock.now(), timeZone))];
}
