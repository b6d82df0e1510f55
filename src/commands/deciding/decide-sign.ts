import type { KnownBlock } from '@slack/types';
import { z } from 'zod';
import { joinedRatio } from '../../domain/production/ratio-parts.js';
import type { Recipe, RecipePart } from '../../domain/record/recipe.js';
import { cupById } from '../../domain/record/table-result.js';
import { cupRatio, type TableSetting } from '../../domain/record/table-setting.js';
import { type Cup, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findDigest, keepDigest } from '../../store/digests.js';
import { loadHouse } from '../../store/house.js';
import { addRecipeVersion, findRecipe } from '../../store/recipes.js';
import { changeTasting } from '../../store/tastings.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { Id, readValue } from '../common/values.js';
import type { Who } from '../common/who.js';
import { productionNext } from './decide-digest.js';
import { withProductionActions } from './production-actions-message.js';

const Value = z.object({ tasting: Id });

/** One tap under the digest: the winning ratio becomes the recipe's next version. */
export async function signTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { who } = tap;
  const now = deps.clock.now();
  const { tasting: id } = readValue(Value, tap.value);
  return inTransaction(deps.db, async (trx) => {
    const setting = await requireTable(trx, who.workspace, id);
    const { tasting, recipe } = setting;
    requireMay('sign off recipe', standingOf(who.person, await loadHouse(trx, who.workspace), setting));
    const winner = tasting.winnerCupId === null ? undefined : cupById(setting, tasting.winnerCupId);
    if (tasting.state !== 'decided' || !winner)
      throw new KindRefusal('not now', `${tastingName(tasting)} has no winner to sign off.`);
    const history = buttons(button('See its versions', 'recipe.versions', recipe.id));
    const is = `${cupRatio(winner, recipe)} is *${mrkdwn(recipe.name)}*`;
    if (tasting.signedOffBy !== null)
      return { message: say(`It is done: <@${tasting.signedOffBy}> has signed it off. ${is}.`, ...history) };
    const version = await signOff(trx, who, setting, winner, now);
    const change = { who: who.person, at: now, change: 'signed off', detail: { version } };
    await changeTasting(trx, { id, workspace: who.workspace }, { signed_off_by: who.person }, change);
    await remarkDigest(trx, who, id, now);
    return { message: say(`Signed off. ${is}, version ${version}.`, ...history) };
  });
}

/**
 * Makes the winning ratio the recipe's next version, joined as the recipe is now; a recipe that is just so
 * already stays as it is.
 *
 * @returns the version that holds the ratio
 */
export async function signOff(
  trx: DbOrTransaction,
  who: Who,
  setting: TableSetting,
  winner: Cup,
  now: Date,
): Promise<number> {
  const { recipe, tasting } = setting;
  if (winner.kind === 'pour') {
    throw new KindRefusal(
      'not now',
      'That ratio was only poured: cup it as a weighed blend before it becomes the recipe.',
      'Decide without signing off, then book it as a weighed blend.',
      'sign',
    );
  }
  const latest = (await findRecipe(trx, who.workspace, recipe.id)) ?? recipe;
  const { parts, groupLossBp } = joinedRatio(winner.parts, withCoffeesOf(latest, recipe));
  if (isJustSo(latest.parts, parts)) return latest.version;
  await addRecipeVersion(trx, {
    workspace: who.workspace,
    recipeId: recipe.id,
    parts,
    groupLossBp,
    why: `${tastingName(tasting)} chose ${cupRatio(winner, recipe)}`,
    tastingId: tasting.id,
    who: who.person,
    at: now,
  });
  return latest.version + 1;
}

/** The recipe as it is now, with what stood in it when the table was booked and has left since. */
function withCoffeesOf(latest: Recipe, booked: Recipe): Recipe {
  const left = booked.parts.filter((part) => latest.parts.every((own) => own.coffeeId !== part.coffeeId));
  return { ...latest, parts: [...latest.parts, ...left] };
}

function isJustSo(a: readonly RecipePart[], b: readonly RecipePart[]): boolean {
  const told = (parts: readonly RecipePart[]) => {
    const whole = parts.reduce((sum, part) => sum + part.parts, 0);
    return JSON.stringify(
      parts.map((part) => [part.coffeeId, (part.parts / whole).toFixed(9), part.roastGroup]),
    );
  };
  return told(a) === told(b);
}

/** The digest stands as it was posted; only what is under it follows. */
async function remarkDigest(trx: DbOrTransaction, who: Who, tastingId: number, now: Date): Promise<void> {
  const { workspace } = who;
  const stored = await findDigest(trx, tastingId);
  if (!stored) return;
  const blocks = z.array(z.custom<KnownBlock>((value) => value !== null)).parse(stored.blocks);
  const setting = await requireTable(trx, workspace, tastingId);
  const message = withProductionActions({ ...stored, blocks }, await productionNext(trx, workspace, setting));
  await keepDigest(trx, { workspace, tastingId, message, at: now, by: who.person });
  await markChanged(trx, workspace, `tasting:${tastingId}`, now);
}
