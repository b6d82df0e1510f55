import { understoodSentence } from '../../domain/notes/reading.js';
import type { Note } from '../../domain/record/note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { cupName, tastingName } from '../../domain/record/tasting.js';
import { formatWhen } from '../../domain/when/local-day.js';
import type { Notice } from '../../kit/notice.js';
import { loadHouse } from '../../store/house.js';
import { listNotes } from '../../store/notes.js';
import { besideKeys, ownTables } from '../../store/own-data.js';
import type { Deps } from '../common/bot.js';
import { requireTable } from '../common/load-table.js';
import { understand } from '../common/table-notes.js';
import { type OwnLine, ownDataFile, untold } from './privacy-messages.js';

/**
 * The file a person asked for; `subject` is "mine:PERSON:INSTANT", once for each time they ask. When nothing
 * of theirs is left, what they were told about it goes, too.
 */
export async function noticesOfOwnData(
  deps: Deps,
  workspace: string,
  subject: string,
): Promise<readonly Notice[]> {
  const person = subject.split(':')[1] ?? '';
  const { timeZone } = await loadHouse(deps.db, workspace);
  const tables = [];
  for (const { tastingId } of await ownTables(deps.db, { workspace, person })) {
    const setting = await requireTable(deps.db, workspace, tastingId);
    const { tasting, recipe } = setting;
    const notes: OwnLine[] = [];
    for (const note of await listNotes(deps.db, tastingId, person))
      notes.push(await lineOf(deps, workspace, setting, note, timeZone));
    tables.push({
      title: `${tastingName(tasting)}, ${recipe.name}, ${formatWhen(tasting.startsAt, timeZone)}`,
      notes,
    });
  }
  if (tables.length === 0) return untold(await besideKeys(deps.db, { workspace, person }), person);
  return [ownDataFile(subject, person, tables, formatWhen(deps.clock.now(), timeZone))];
}

async function lineOf(
  deps: Deps,
  workspace: string,
  setting: TableSetting,
  note: Note,
  zone: string,
): Promise<OwnLine> {
  const cup = setting.cups.find((held) => held.id === (note.chosenCupId ?? note.homeCupId));
  return {
    when: formatWhen(note.receivedAt, zone),
    cup: cup ? cupName(cup) : null,
    late: note.late,
    text: note.text,
    understood: understoodSentence(await understand(deps.db, workspace, setting, note)),
  };
}
