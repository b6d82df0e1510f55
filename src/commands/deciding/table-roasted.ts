import { z } from 'zod';
import { formatBp } from '../../domain/measure/hundredths.js';
import { counted } from '../../domain/measure/plain-list.js';
import { formatWeight } from '../../domain/measure/weight.js';
import { type RoastGroupNote, roastGroups } from '../../domain/production/roast-groups.js';
import { lossBp } from '../../domain/roast/loss.js';
import { estimateLoss, oddBatches } from '../../domain/roast/loss-estimate.js';
import { localDay } from '../../domain/when/local-day.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import { KindRefusal } from '../../runtime/errors.js';
import { coffeesById } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, Id, readValue, type Submission, type Tap, type Who } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { requireRecipe } from '../recipes/saved-recipe.js';
import { noteOf, requireDecided, roastsByGroup } from './decided-table.js';
import { groupRoastedForm } from './production-forms.js';
import { keepGroupRoast } from './table-keep-roast.js';
import { type ReadRoast, readRoast } from './table-read-roast.js';

/** The winning ratio of a tasting, or a recipe as it stands. */
const Value = z.object({ recipe: Id, tasting: Id.optional() });
type Value = z.output<typeof Value>;
/** A submission does not say where its form was opened, so the form does. */
const State = Value.extend({ channel: z.string().nullish() });

/** The groups that are roasted together, and the form for what came out of one. */
export async function roastedTap(deps: Deps, tap: Tap): Promise<Answer> {
  const value = readValue(Value, tap.value);
  await requireAllowed(deps.db, tap.who, 'change shelf');
  const { groups, blend } = await joinedGreen(deps.db, tap, value);
  const house = await loadHouse(deps.db, tap.who.workspace);
  if (groups.length === 0)
    throw new KindRefusal(
      'not now',
      `${blend} has no coffees that are roasted together.`,
      'A coffee roasted alone is recorded with `/spoon shelf`.',
    );
  const shown = groups.map((group) => ({
    group: group.group ?? '',
    names: group.coffees.map((coffee) => coffee.name).join(' + '),
    greenMg: group.loadMg,
  }));
  const today = localDay(deps.clock.now(), house.timeZone);
  return {
    form: groupRoastedForm(shown, blend, today, house.unitSystem, { ...value, channel: tap.channel }),
  };
}

/** Keeps what came out: the group's own measured loss is reckoned with from now on. */
export async function roastedSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const value = readValue(State, form.privateMetadata);
  const channel = value.channel ?? null;
  const now = deps.clock.now();
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const house = await loadHouse(trx, who.workspace);
    const { groups } = await joinedGreen(trx, { who, channel }, value);
    const group = groups.find((one) => one.group === chosen(form, 'group')[0]);
    if (!group) throw new KindRefusal('not found', 'That blend has changed.', 'Open its recipe again.');
    const read = readRoast(form, localDay(now, house.timeZone), house.unitSystem);
    if (!read.ok) return { errors: read.errors };
    await keepGroupRoast(
      trx,
      { workspace: who.workspace, who: who.person, now, house },
      value.recipe,
      group,
      read.roast,
    );
    return { message: await recorded(trx, who, value.recipe, group, read.roast) };
  });
}

async function joinedGreen(
  db: DbOrTransaction,
  { who, channel }: Pick<Tap, 'who' | 'channel'>,
  value: Value,
): Promise<{ readonly groups: readonly RoastGroupNote[]; readonly blend: string }> {
  const { workspace } = who;
  const together = (groups: readonly RoastGroupNote[]) => groups.filter((group) => group.coffees.length > 1);
  if (value.tasting !== undefined) {
    const decided = await requireDecided(db, who, channel, value.tasting);
    return { groups: together(noteOf(decided).groups), blend: decided.blend };
  }
  const recipe = await requireRecipe(db, workspace, value.recipe);
  const coffees = await coffeesById(
    db,
    workspace,
    recipe.parts.map((part) => part.coffeeId),
  );
  const portions = recipe.parts.flatMap(({ coffeeId, parts, roastGroup }) => {
    const coffee = coffees.get(coffeeId);
    return coffee ? [{ coffee, roastGroup, roastedMg: parts * 100_000, part: parts }] : [];
  });
  const house = await loadHouse(db, workspace);
  return { groups: together(roastGroups(portions, recipe.groupLossBp, house)), blend: recipe.name };
}

async function recorded(
  db: DbOrTransaction,
  { workspace }: Who,
  recipeId: number,
  group: RoastGroupNote,
  roast: ReadRoast,
): Promise<Message> {
  const { unitSystem } = await loadHouse(db, workspace);
  const recipe = await requireRecipe(db, workspace, recipeId);
  const roasts = (await roastsByGroup(db, workspace, recipe)).get(group.group ?? '') ?? [];
  const names = mrkdwn(group.coffees.map((coffee) => coffee.name).join(' + '));
  const weight = (mg: number) => formatWeight(mg, unitSystem);
  const loss = formatBp(lossBp(roast.greenMg, roast.roastedMg));
  const head = `Recorded *${names}*: ${weight(roast.greenMg)} green in, ${weight(roast.roastedMg)} out, ${loss} loss.`;
  const estimate = estimateLoss(roasts, group.lossBp);
  const odd = oddBatches(roasts, group.lossBp).find(({ index }) => index === roasts.length - 1);
  if (odd)
    return say(
      `${head} That is more than 2 points from the ${formatBp(odd.usualBp)} it has shown: please look at both weights again.`,
    );
  return say(
    `${head} From ${counted(estimate.batches, 'roast')} I reckon with ${formatBp(estimate.lossBp)} from now on; the next may come out at ${formatBp(estimate.nextLowBp)} to ${formatBp(estimate.nextHighBp)}.`,
  );
}
