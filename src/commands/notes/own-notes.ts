import type { Reading } from '../../domain/notes/reading.js';
import { understoodSentence } from '../../domain/notes/understood.js';
import type { Note } from '../../domain/record/note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listNotes } from '../../store/notes.js';
import { houseVocabulary } from '../common/house-vocabulary.js';
import type { OwnNote } from './note-form.js';
import { readCorrected } from './read-notes.js';

/** A note as it is understood now, cups by the names tasters use. */
export async function understand(
  db: DbOrTransaction,
  workspace: string,
  setting: TableSetting,
  note: Note,
): Promise<Reading> {
  return readCorrected(db, setting, note, await houseVocabulary(db, workspace));
}

/** A person's own notes at a table, with what each was understood to say. */
export async function ownNotes(
  db: DbOrTransaction,
  workspace: string,
  setting: TableSetting,
  person: string,
): Promise<readonly OwnNote[]> {
  const notes = await listNotes(db, setting.tasting.id, person);
  const own: OwnNote[] = [];
  for (const note of notes) {
    const reading = await understand(db, workspace, setting, note);
    own.push({
      id: note.id,
      text: note.text,
      understood: understoodSentence(reading),
      needsCup: reading.needsCup,
    });
  }
  return own;
}
