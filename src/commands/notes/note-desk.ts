import type { Vocabulary } from '../../domain/notes/vocabulary.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import type { DbOrTransaction } from '../../store/db.js';
import { houseVocabulary } from '../common/house-vocabulary.js';
import { requireTable } from '../common/load-table.js';

/**
 * What the notes that are read in one transaction have in common: each table and the house's vocabulary are
 * loaded for the first of them. Make a new one after anything that may have changed a table or a word.
 */
export type NoteDesk = {
  table(tastingId: number): Promise<TableSetting>;
  vocabulary(): Promise<Vocabulary>;
};

export function createNoteDesk(db: DbOrTransaction, workspace: string): NoteDesk {
  const tables = new Map<number, TableSetting>();
  let vocabulary: Vocabulary | undefined;
  return {
    async table(tastingId) {
      const known = tables.get(tastingId);
      if (known) return known;
      const table = await requireTable(db, workspace, tastingId);
      tables.set(tastingId, table);
      return table;
    },
    async vocabulary() {
      vocabulary ??= await houseVocabulary(db, workspace);
      return vocabulary;
    },
  };
}
