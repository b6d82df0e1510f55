import { joinedRatio } from '../../domain/production/joined-ratio.js';
import type { Recipe, RecipePart } from '../../domain/record/recipe.js';
import { cupById, cupRatio, type TableSetting } from '../../domain/record/table-setting.js';
import { type Cup, tastingName } from '../../domain/record/tasting.js';
import { winnerOf } from '../../domain/result/table-result.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { type Db, inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { addRecipeVersion, findRecipe } from '../../store/recipes.js';
import { updateTasting } from '../../store/tastings.js';
import type { Answer, Deps } from '../common/bot.js';
import { changeTasting } from '../common/change-tasting.js';
import { type Tap, tastingOf, type Who } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { requireAllowed, requireMay, standingOf } from '../common/standing.js';
import { loadResult } from '../common/table-notes.js';
import { renewDigestActions, writeDigest } from './write-digest.js';

/** What the host decides. `winner` null leaves it as the table found it. */
type Decision = {
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
    const { decision: found } = await loadResult(trx, who.workspace, setting, decision.winner);
    const winner = cupById(setting, decision.winner ?? found.winner ?? '') ?? null;
    const isAgainst = winner !== null && found.winner !== null && found.winner !== String(winner.id);
    if (winner?.kind === 'component')
      throw new UserError('A coffee alone cannot win: choose a ratio.', null, 'winner');
    const signedOffBy = decision.signOff && winner ? who.person : null;
    const context = { workspace: who.workspace, now, who: who.person };
    const decided = await changeTasting(trx, context, setting.tasting, 'decide', {
      values: {
        decided_at: now.toISOString(),
        winner_cup_id: winner?.id ?? null,
        decided_rule: isAgainst ? 'host' : found.decidedBy,
        batch_mg: decision.batchMg,
        signed_off_by: signedOffBy,
      },
      detail: { winner: winner?.id ?? null, remarks: decision.remarks },
    });
    if (!decided) return;
    if (winner && signedOffBy) await signOff(trx, who, setting, winner, now);
    await writeDigest(trx, who, tastingId, now);
  });
}

/** Makes the digest again from the notes as they are now: the host asked for it. */
export async function againTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { who } = tap;
  const tastingId = tastingOf(tap);
  return inTransaction(deps.db, async (trx) => {
    const setting = await requireTable(trx, who.workspace, tastingId);
    const { tasting } = setting;
    await requireAllowed(trx, who, 'decide', tasting);
    if (tasting.state !== 'decided') throw new UserError(`${tastingName(tasting)} is not decided yet.`);
    await writeDigest(trx, who, tastingId, deps.clock.now());
    return { message: say('The digest stands in the channel anew, with the notes as they are now.') };
  });
}

/** One tap under the digest: the winning ratio becomes the recipe's next version. */
export async function signTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { who } = tap;
  const now = deps.clock.now();
  const id = tastingOf(tap);
  return inTransaction(deps.db, async (trx) => {
    const setting = await requireTable(trx, who.workspace, id);
    const { tasting, recipe } = setting;
    await requireAllowed(trx, who, 'sign off recipe');
    const winner = winnerOf(setting);
    if (tasting.state !== 'decided' || !winner)
      throw new UserError(`${tastingName(tasting)} has no winner to sign off.`);
    const history = buttons(button('See its versions', 'recipe.versions', recipe.id));
    const is = `${cupRatio(winner, recipe)} is *${mrkdwn(recipe.name)}*`;
    if (tasting.signedOffBy !== null)
      return { message: say(`It is done: <@${tasting.signedOffBy}> has signed it off. ${is}.`, ...history) };
    const version = await signOff(trx, who, setting, winner, now);
    const change = { who: who.person, at: now, change: 'signed off', detail: { version } };
    await updateTasting(trx, { id, workspace: who.workspace }, { signed_off_by: who.person }, change);
    await renewDigestActions(trx, who, id, now);
    return { message: say(`Signed off. ${is}, version ${version}.`, ...history) };
  });
}

/**
 * Makes the winning ratio the recipe's next version, joined as the recipe is now; a recipe that is just so
 * already stays as it is.
 *
 * @returns the version that holds the ratio
 */
async function signOff(trx: Db, who: Who, setting: TableSetting, winner: Cup, now: Date): Promise<number> {
  const { recipe, tasting } = setting;
  if (winner.kind === 'pour') {
    throw new UserError(
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
