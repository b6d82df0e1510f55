import { remembered } from '../../domain/measure/remembered.js';
import { cupNames } from '../../domain/notes/cup-reference.js';
import { readNote } from '../../domain/notes/read-note.js';
import { correctReading, type Reading } from '../../domain/notes/reading.js';
import { extendVocabulary, SHIPPED_VOCABULARY, type Vocabulary } from '../../domain/notes/vocabulary.js';
import type { Note, NoteReading } from '../../domain/record/note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { cupName, LIVE_STATES } from '../../domain/record/tasting.js';
import { type TableResult, tableResult } from '../../domain/result/table-result.js';
import { markChanged } from '../../store/changed.js';
import type { Db } from '../../store/db.js';
import { listHouseWords, loadHouse } from '../../store/house.js';
import { listNotes } from '../../store/notes.js';
import { listCorrections, listReadNotes, saveReading } from '../../store/readings.js';
import { listTastings } from '../../store/tastings.js';
import { loadTable } from './load-table.js';

/** Reads notes of one table as they stand now, with the taster's corrections, and keeps what was understood. */
export async function readStoredNotes(
  db: Db,
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
  db: Db,
  setting: TableSetting,
  note: Note,
  vocabulary: Vocabulary,
): Promise<Reading> {
  return correctReading(readOne(setting, note, vocabulary), await listCorrections(db, note.id));
}

/** A note as it is understood now, cups by the names tasters use. */
export async function understand(
  db: Db,
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
export async function rereadOpenTables(db: Db, workspace: string, now: Date): Promise<number> {
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

const laidOut = remembered<Vocabulary>(50);

/** The vocabulary with this house's own words; laid out once and kept while the words stay the same. */
export async function houseVocabulary(db: Db, workspace: string): Promise<Vocabulary> {
  const words = await listHouseWords(db, workspace);
  if (words.length === 0) return SHIPPED_VOCABULARY;
  const key = JSON.stringify(words.map((word) => [word.words, word.attribute]));
  return laidOut(key, () => extendVocabulary(SHIPPED_VOCABULARY, words).vocabulary);
}

/** What a table found so far, worked out from its stored notes when asked: there is no second copy of the truth. */
export async function loadResult(
  db: Db,
  workspace: string,
  setting: TableSetting,
  hostChoice: number | null = setting.tasting.winnerCupId,
): Promise<TableResult> {
  return tableResult({
    setting,
    notes: await listReadNotes(db, setting.tasting.id),
    house: await loadHouse(db, workspace),
    vocabulary: await houseVocabulary(db, workspace),
    hostChoice,
  });
}
