import { productionNote } from '../../domain/production/production-note.js';
import { joinedRatio } from '../../domain/production/ratio-parts.js';
import { cupById, productionPlan, type TableResult } from '../../domain/record/table-result.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import type { Cup } from '../../domain/record/tasting.js';
import type { Message } from '../../kit/message.js';
import type { PictureSpec } from '../../kit/notice.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listRecipeVersions } from '../../store/recipes.js';
import { requireTable } from '../common/load-table.js';
import { loadView } from '../common/load-view.js';
import { placingPicture } from '../tallying/pictures-message.js';
import { ratioName } from '../tallying/verdict-words.js';
import { digestMessage } from './digest-message.js';
import { type ProductionNext, withProductionActions } from './production-actions-message.js';
import { measuredLosses } from './table-losses.js';

/** What a digest is composed from besides the state. */
export type DigestContents = {
  readonly result: TableResult;
  readonly winner: Cup | null;
  readonly batchMg: number;
  readonly remarks: string | null;
};

/** The digest of a decided table, with its production note and what can be done next. */
export async function composeDigest(
  trx: DbOrTransaction,
  workspace: string,
  tastingId: number,
  { result, winner, batchMg, remarks }: DigestContents,
  now: Date,
): Promise<Message & { readonly picture?: PictureSpec }> {
  const setting = await requireTable(trx, workspace, tastingId);
  const view = await loadView(trx, workspace, setting, now);
  const measured = await measuredLosses(trx, workspace, setting.recipe, setting.coffees);
  const plan = winner && productionPlan(winner, setting, batchMg, setting.tasting.signedOffBy, measured);
  const production = plan && productionNote(plan, view.house);
  const tableWinner = result.decision.winner;
  const otherwise = winner !== null && tableWinner !== null && tableWinner !== String(winner.id);
  const against = otherwise
    ? `The host goes on with ${ratioName(setting, String(winner.id))}, although the table put ${ratioName(setting, tableWinner)} first.`
    : null;
  const message = digestMessage({ view, result, production, against, remarks });
  const withNext = withProductionActions(message, await productionNext(trx, workspace, setting));
  const picture = placingPicture(setting, result);
  return picture ? { ...withNext, picture } : withNext;
}

/** What can be done with a decided table now. */
export async function productionNext(
  trx: DbOrTransaction,
  workspace: string,
  setting: TableSetting,
): Promise<ProductionNext> {
  const { tasting, recipe, coffees } = setting;
  const winner = tasting.winnerCupId === null ? undefined : cupById(setting, tasting.winnerCupId);
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
