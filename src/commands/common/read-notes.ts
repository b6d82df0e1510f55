import { cupNames } from '../../domain/notes/cup-reference.js';
import { readNote } from '../../domain/notes/read-note.js';
import { correctReading, type Reading } from '../../domain/notes/reading.js';
import type { Vocabulary } from '../../domain/notes/vocabulary.js';
import type { Note, NoteReading } from '../../domain/record/note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { cupName, LIVE_STATES } from '../../domain/record/tasting.js';
import { markChanged } from '../../store/changed.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listNotes } from '../../store/notes.js';
import { listCorrections, saveReading } from '../../store/readings.js';
import { listTastings } from '../../store/tastings.js';
import { houseVocabulary } from './house-vocabulary.js';
import { loadTable } from './load-table.js';

/** Reads notes of one table as they stand now, with the taster's corrections, and keeps what was understood. */
export async function readStoredNotes(
  db: DbOrTransaction,
  setting: TableSetting,
  notes: readonly Note[],
  vocabulary: Vocabulary,
): Promise<readonly Reading[]> {
  const readings: Reading[] = [];
  for (const note of notes) {
    const reading = await readCorrected(db, setting, note, vocabulary);
    await saveReading(db, note.id, byCupId(setting, reading));
    readings.push(reading);
  }
  return readings;
}

/** A note as it is understood now, with its taster's corrections, cups by the names tasters use. */
async function readCorrected(
  db: DbOrTransaction,
  setting: TableSetting,
  note: Note,
  vocabulary: Vocabulary,
): Promise<Reading> {
  return correctReading(readOne(setting, note, vocabulary), await listCorrections(db, note.id));
}

/** A note as it is understood now, cups by the names tasters use. */
export async function understand(
  db: DbOrTransaction,
  workspace: string,
  setting: TableSetting,
  note: Note,
): Promise<Reading> {
  return readCorrected(db, setting, note, await houseVocabulary(db, workspace));
}

/** One note in its place: in a cup's thread, or for the cup its writer chose, no cup need be named. */
function readOne(setting: TableSetting, note: Note, vocabulary: Vocabulary): Reading {
  const home = setting.cups.find((cup) => cup.id === (note.chosenCupId ?? note.homeCupId));
  const context = {
    cups: cupNames(setting),
    homeCup: home ? cupName(home) : null,
    blind: setting.tasting.blind,
  };
  return readNote(note.text, context, vocabulary);
}

function byCupId(setting: TableSetting, reading: Reading): NoteReading {
  const ids = new Map(setting.cups.map((cup) => [cupName(cup), cup.id]));
  const idsOf = (names: readonly string[]) => names.flatMap((name) => ids.get(name) ?? []);
  return {
    mentions: reading.mentions.map(({ cup, ...mention }) => ({
      ...mention,
      cupId: (cup && ids.get(cup)) || null,
    })),
    order: reading.order?.map(idsOf).filter((group) => group.length > 0) ?? null,
    liking: new Map(
      Object.entries(reading.liking).flatMap(([name, liking]) =>
        idsOf([name]).map((id) => [id, liking] as const),
      ),
    ),
    worst: idsOf(reading.worst),
    needsCup: reading.needsCup,
    unplaced: reading.unplaced,
  };
}

/**
 * Reads the notes of every table that is not decided again, so that a taught word acts at once.
 *
 * @returns how many notes were read
 */
export async function rereadOpenTables(db: DbOrTransaction, workspace: string, now: Date): Promise<number> {
  const vocabulary = await houseVocabulary(db, workspace);
  let count = 0;
  for (const tasting of await listTastings(db, workspace, LIVE_STATES)) {
    const notes = await listNotes(db, tasting.id);
    if (notes.length === 0) continue;
    await readStoredNotes(db, await loadTable(db, workspace, tasting), notes, vocabulary);
    for (const note of notes) await markChanged(db, workspace, `note:${note.id}`, now);
    await markChanged(db, workspace, `tasting:${tasting.id}`, now);
    count += notes.length;
  }
  return count;
}
