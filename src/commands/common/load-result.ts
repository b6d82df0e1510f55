import type { TableSetting } from '../../domain/record/table-setting.js';
import { type TableResult, tableResult } from '../../domain/result/table-result.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listReadNotes } from '../../store/readings.js';
import { houseVocabulary } from './house-vocabulary.js';

/** What a table found so far, worked out from its stored notes when asked: there is no second copy of the truth. */
export async function loadResult(
  db: DbOrTransaction,
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
