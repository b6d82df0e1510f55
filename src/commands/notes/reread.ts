import { LIVE_STATES } from '../../domain/record/tasting.js';
import { markChanged } from '../../store/changed.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listNotes } from '../../store/notes.js';
import { listTastings } from '../../store/tastings.js';
import { houseVocabulary } from '../common/house-vocabulary.js';
import { loadTable } from '../common/load-table.js';
import { readStoredNotes } from './read-notes.js';

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
