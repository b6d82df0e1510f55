import type { KnownBlock } from '@slack/types';
import { z } from 'zod';
import { joinedRatio } from '../../domain/production/joined-ratio.js';
import { productionNote } from '../../domain/production/production-note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { winnerOf } from '../../domain/result/table-result.js';
import { markChanged } from '../../store/changed.js';
import type { Db } from '../../store/db.js';
import { listRecipeVersions } from '../../store/recipes.js';
import { decidedRemarks, findDigest, saveDigest } from '../../store/tasting-records.js';
import type { Who } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { loadResult } from '../common/table-notes.js';
import { loadView } from '../table/notices-of.js';
import { placingPicture } from '../tallying/tally-messages.js';
import { ratioName } from '../tallying/verdict-words.js';
import { productionOf } from './decided-table.js';
import { digestMessage } from './digest-message.js';
import { type ProductionNext, withProductionActions } from './production-messages.js';

/**
 * Writes the digest of a decided table from state alone, in place of an earlier one: when it is decided, when the
 * host posts it anew, and when a taster erases notes that it quotes or counts.
 */
export async function writeDigest(
  trx: Db,
  { workspace, person }: Who,
  tastingId: number,
  now: Date,
): Promise<void> {
  const setting = await requireTable(trx, workspace, tastingId);
  const view = await loadView(trx, workspace, setting, now);
  const result = await loadResult(trx, workspace, setting);
  const plan = await productionOf(trx, workspace, setting);
  const tableWinner = result.decision.winner;
  const winner = winnerOf(setting);
  const otherwise = winner !== undefined && tableWinner !== null && tableWinner !== String(winner.id);
  const message = digestMessage({
    view,
    result,
    production: plan && productionNote(plan, view.house),
    against: otherwise
      ? `The host goes on with ${ratioName(setting, String(winner.id))}, although the table put ${ratioName(setting, tableWinner)} first.`
      : null,
    remarks: await decidedRemarks(trx, tastingId),
  });
  const withNext = withProductionActions(message, await productionNext(trx, workspace, setting));
  const picture = placingPicture(setting, result);
  const by = { who: person, at: now };
  await saveDigest(trx, { id: tastingId, workspace }, picture ? { ...withNext, picture } : withNext, by);
  await markChanged(trx, workspace, `tasting:${tastingId}`, now);
}

/** What was written stands; only what can be done under it follows the table's state. */
export async function renewDigestActions(
  trx: Db,
  { workspace, person }: Who,
  tastingId: number,
  now: Date,
): Promise<void> {
  const stored = await findDigest(trx, tastingId);
  if (!stored) return;
  const blocks = z.array(z.custom<KnownBlock>((value) => value !== null)).parse(stored.blocks);
  const setting = await requireTable(trx, workspace, tastingId);
  const message = withProductionActions({ ...stored, blocks }, await productionNext(trx, workspace, setting));
  await saveDigest(trx, { id: tastingId, workspace }, message, { who: person, at: now });
  await markChanged(trx, workspace, `tasting:${tastingId}`, now);
}

/** What can be done with a decided table now. */
async function productionNext(trx: Db, workspace: string, setting: TableSetting): Promise<ProductionNext> {
  const { tasting, recipe, coffees } = setting;
  const winner = winnerOf(setting);
  const parts = winner ? joinedRatio(winner.parts, recipe).parts : [];
  const versions = tasting.signedOffBy === null ? [] : await listRecipeVersions(trx, workspace, recipe.id);
  const version = versions.find((one) => one.tastingId === tasting.id) ?? versions[0];
  return {
    tastingId: tasting.id,
    recipeId: recipe.id,
    recipeName: recipe.name,
    winner: winner === undefined ? 'none' : winner.kind === 'pour' ? 'poured' : 'weighed',
    joinedGreen: parts.some((part) => part.roastGroup !== null),
    costKnown: parts.every((part) => (coffees.get(part.coffeeId)?.greenPriceCents ?? null) !== null),
    signed:
      tasting.signedOffBy !== null && version
        ? { by: tasting.signedOffBy, version: version.recipe.version }
        : null,
  };
}
