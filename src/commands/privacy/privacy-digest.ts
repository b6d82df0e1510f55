import { cupById } from '../../domain/record/table-result.js';
import { USUAL_BATCH_MG } from '../../domain/record/tasting.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findDigest, keepDigest } from '../../store/digests.js';
import { loadResult } from '../common/load-result.js';
import { requireTable } from '../common/load-table.js';
import { composeDigest } from '../deciding/decide-digest.js';

/**
 * A posted digest made anew from the notes that remain, when some were erased: it must not go on quoting or
 * counting them. The decision itself stands as the host made it.
 */
export async function remakeDigest(
  trx: DbOrTransaction,
  workspace: string,
  tastingId: number,
  now: Date,
): Promise<void> {
  if (!(await findDigest(trx, tastingId))) return;
  const setting = await requireTable(trx, workspace, tastingId);
  const { winnerCupId, batchMg, host } = setting.tasting;
  const result = await loadResult(trx, workspace, setting);
  const winner = winnerCupId === null ? null : (cupById(setting, winnerCupId) ?? null);
  const parts = { result, winner, batchMg: batchMg ?? USUAL_BATCH_MG, remarks: null };
  const message = await composeDigest(trx, workspace, tastingId, parts, now);
  await keepDigest(trx, { workspace, tastingId, message, at: now, by: host });
}
