import { cupById, type TableResult } from '../../domain/record/table-result.js';
import { type Cup, tastingName, USUAL_BATCH_MG } from '../../domain/record/tasting.js';
import { changeTasting as nextState } from '../../domain/table/tasting.js';
import { KindRefusal } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { decidedRemarks } from '../../store/decisions.js';
import { keepDigest } from '../../store/digests.js';
import { loadHouse } from '../../store/house.js';
import { changeTasting } from '../../store/tastings.js';
import { inTransaction } from '../../store/transaction.js';
import type { Deps } from '../common/deps.js';
import { loadResult } from '../common/load-result.js';
import { requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import type { Who } from '../common/who.js';
import { composeDigest } from './decide-digest.js';
import { signOff } from './decide-sign.js';

/** What the host decides. `winner` null leaves it as the table found it. */
export type Decision = {
  readonly winner: number | null;
  readonly batchMg: number;
  readonly remarks: string | null;
  readonly signOff: boolean;
};

/** Decides a closed table and keeps its digest, in one unit; the digest is posted from there. */
export async function decideTable(
  deps: Deps,
  who: Who,
  tastingId: number,
  decision: Decision,
): Promise<void> {
  const now = deps.clock.now();
  const house = await loadHouse(deps.db, who.workspace);
  await inTransaction(deps.db, async (trx) => {
    const setting = await requireTable(trx, who.workspace, tastingId);
    const standing = standingOf(who.person, house, setting);
    requireMay('decide', standing, setting.tasting);
    if (decision.signOff) requireMay('sign off recipe', standing);
    const next = nextState(setting.tasting.state, 'decide');
    if (!next.ok) throw new KindRefusal('not now', next.message);
    const result = await loadResult(trx, who.workspace, setting, decision.winner);
    const winner = cupById(setting, decision.winner ?? Number(result.decision.winner)) ?? null;
    if (winner?.kind === 'component')
      throw new KindRefusal('not understood', 'A coffee alone cannot win: choose a ratio.', null, 'winner');
    const signedOffBy = decision.signOff && winner ? who.person : null;
    await changeTasting(
      trx,
      { id: tastingId, workspace: who.workspace },
      {
        state: next.state,
        decided_at: now.toISOString(),
        winner_cup_id: winner?.id ?? null,
        decided_rule: ruleOf(result, winner),
        batch_mg: decision.batchMg,
        signed_off_by: signedOffBy,
      },
      {
        who: who.person,
        at: now,
        change: 'decided',
        detail: { winner: winner?.id ?? null, remarks: decision.remarks },
      },
    );
    if (winner && signedOffBy) await signOff(trx, who, setting, winner, now);
    const message = await composeDigest(trx, who.workspace, tastingId, { ...decision, result, winner }, now);
    await keepDigest(trx, { workspace: who.workspace, tastingId, message, at: now, by: who.person });
    await markChanged(trx, who.workspace, `tasting:${tastingId}`, now);
  });
}

/** Makes the digest again from the notes as they are now: the host asked for it. */
export async function postDigestAnew(deps: Deps, who: Who, tastingId: number): Promise<void> {
  const now = deps.clock.now();
  await inTransaction(deps.db, async (trx) => {
    const setting = await requireTable(trx, who.workspace, tastingId);
    const { tasting } = setting;
    requireMay('decide', standingOf(who.person, await loadHouse(trx, who.workspace), setting), tasting);
    if (tasting.state !== 'decided')
      throw new KindRefusal('not now', `${tastingName(tasting)} is not decided yet.`);
    const result = await loadResult(trx, who.workspace, setting);
    const winner = tasting.winnerCupId === null ? null : (cupById(setting, tasting.winnerCupId) ?? null);
    const remarks = await decidedRemarks(trx, tastingId);
    const parts = { result, winner, batchMg: tasting.batchMg ?? USUAL_BATCH_MG, remarks };
    const message = await composeDigest(trx, who.workspace, tastingId, parts, now);
    await keepDigest(trx, { workspace: who.workspace, tastingId, message, at: now, by: who.person });
    await markChanged(trx, who.workspace, `tasting:${tastingId}`, now);
  });
}

function ruleOf({ decision }: TableResult, winner: Cup | null): string {
  if (winner && decision.winner !== null && decision.winner !== String(winner.id)) return 'host';
  return decision.decidedBy;
}
