import { z } from 'zod';
import { formatBp } from '../../domain/measure/hundredths.js';
import { counted } from '../../domain/measure/plain-list.js';
import { formatWeight, type UnitSystem } from '../../domain/measure/weight.js';
import type { RoastGroupNote } from '../../domain/production/roast-groups.js';
import type { RoastReport } from '../../domain/roast/check-roast.js';
import { localDay } from '../../domain/when/local-day.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { coffeesById } from '../../store/coffees.js';
import { type Db, inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, Id, readValue, type Submission, type Tap, written } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { askContext } from '../planning/plan-roasts.js';
import { type RecordedRoast, recordRoast } from '../planning/record-roast.js';
import { notRecorded, readRoastForm } from '../planning/roast-form.js';
import { recipeGroups, requireRecipe } from '../recipes/saved-recipe.js';
import { noteOf, requireDecided } from './decided-table.js';
import { groupRoastedForm, type RoastedGroup } from './production-forms.js';

/** The winning ratio of a tasting, or a recipe as it stands. */
const Value = z.object({ recipe: Id, tasting: Id.optional() });
type Value = z.output<typeof Value>;
/** A submission does not say where its form was opened, so the form does. */
const State = Value.extend({ channel: z.string().nullish() });

/** The groups that are roasted together, and the form for what came out of one. */
export async function groupRoastedTap(deps: Deps, tap: Tap): Promise<Answer> {
  const value = readValue(Value, tap.value);
  await requireAllowed(deps.db, tap.who, 'change shelf');
  const { groups, blend } = await joinedGreen(deps.db, tap, value);
  const house = await loadHouse(deps.db, tap.who.workspace);
  if (groups.length === 0)
    throw new UserError(
      `${blend} has no coffees that are roasted together.`,
      'A coffee roasted alone is recorded with `/spoon shelf`.',
    );
  const day = localDay(deps.clock.now(), house.timeZone);
  const start = { green: '', roasted: '', day, asked: null };
  const state = { ...value, channel: tap.channel };
  return { form: groupRoastedForm(groups.map(shownGroup), blend, house.unitSystem, state, start) };
}

/** Records what came out: the group's own measured loss is reckoned with from now on. */
export async function groupRoastedSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const value = readValue(State, form.privateMetadata);
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const context = await askContext(trx, deps, who);
    const { house } = context;
    const { groups, blend } = await joinedGreen(trx, { who, channel: value.channel ?? null }, value);
    const group = groups.find((one) => one.group === chosen(form, 'group')[0]);
    if (!group) throw new UserError('That blend has changed.', 'Open its recipe again.');
    const read = readRoastForm(form, context, true);
    if (!read.ok) return { errors: read.errors };
    const recorded = await recordRoast(trx, context, {
      ...read.report,
      subject: { kind: 'group', recipeId: value.recipe, group: group.group ?? '', members: group.coffees },
      remarks: written(form, 'remarks') || null,
    });
    if (recorded.kind !== 'recorded')
      return notRecorded(form, recorded, (start) =>
        groupRoastedForm([shownGroup(group)], blend, house.unitSystem, value, start),
      );
    return { message: recordedMessage(group, read.report, recorded, house.unitSystem) };
  });
}

function shownGroup(group: RoastGroupNote): RoastedGroup {
  const names = group.coffees.map((coffee) => coffee.name).join(' + ');
  return { group: group.group ?? '', names, greenMg: group.loadMg };
}

async function joinedGreen(
  db: Db,
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
  const ids = recipe.parts.map((part) => part.coffeeId);
  const coffees = await coffeesById(db, workspace, ids);
  const weights = recipe.parts.map(({ parts }) => parts * 100_000);
  const house = await loadHouse(db, workspace);
  return { groups: together(recipeGroups(recipe, coffees, weights, house)), blend: recipe.name };
}

function recordedMessage(
  group: RoastGroupNote,
  { greenMg, roastedMg }: RoastReport,
  { drum, lossBp, estimate }: Extract<RecordedRoast, { readonly kind: 'recorded' }>,
  units: UnitSystem,
): Message {
  const weight = (mg: number) => formatWeight(mg, units);
  const names = mrkdwn(shownGroup(group).names);
  const where = drum === null ? '' : ` in the ${mrkdwn(drum)}`;
  const head = `Recorded *${names}*${where}: ${weight(greenMg ?? 0)} green in, ${weight(roastedMg)} out, ${formatBp(lossBp ?? 0)} loss.`;
  return say(
    `${head} From ${counted(estimate.batches, 'roast')} there I reckon with ${formatBp(estimate.lossBp)} from now on; the next may come out at ${formatBp(estimate.nextLowBp)} to ${formatBp(estimate.nextHighBp)}.`,
  );
}
