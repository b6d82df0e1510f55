import { formatBp } from '../../domain/measure/hundredths.js';
import { formatWeight } from '../../domain/measure/weight.js';
import { lossBp } from '../../domain/roast/loss.js';
import { estimateLoss, oddBatches } from '../../domain/roast/loss-estimate.js';
import { daysAfter, formatShortDay, isLocalDay, type LocalDay } from '../../domain/when/local-day.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { updateCoffee } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { insertLot } from '../../store/lots.js';
import { insertRoast, listRoastsAlone } from '../../store/roasts.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, readValue, type Submission, type Tap, type Who, written } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { OfCoffee, replanShelf } from './change-coffee.js';
import { readGramsField } from './shelf-grams.js';
import { roastedForm } from './shelf-roasted-form.js';
import { coffeeCard, requireShown, type ShelfNow, shelfNow } from './shelf-view.js';

/** Roasted coffee for the shelf; `greenMg` when its charge is known, `bestBy` when it is not the usual one. */
export type Roasted = {
  readonly coffeeId: number;
  readonly mg: number;
  readonly greenMg: number | null;
  readonly roastedOn: LocalDay;
  readonly bestBy: LocalDay | null;
};

/** Puts roasted coffee on the shelf and says what was understood. */
export async function putOnShelf(deps: Deps, who: Who, roasted: Roasted): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const before = await shelfNow(deps, who, trx);
    const { coffee } = requireShown(before.shelf, roasted.coffeeId);
    if (roasted.greenMg !== null && roasted.greenMg <= roasted.mg) {
      throw new KindRefusal(
        'not understood',
        'Roasted coffee weighs less than the green did. Are the two weights swapped?',
        null,
        'green',
      );
    }
    const { roastId, remark } = await recordRoast(trx, who, roasted, before);
    await insertLot(trx, {
      workspace: who.workspace,
      coffeeId: coffee.id,
      mg: roasted.mg,
      roastedOn: roasted.roastedOn,
      bestBy: roasted.bestBy ?? daysAfter(roasted.roastedOn, before.facts.bestByDays),
      roastId,
      who: who.person,
      at: before.now,
    });
    await replanShelf(trx, who, before.now);
    const weight = formatWeight(roasted.mg, before.facts.unitSystem);
    const done = `Put ${weight} of *${mrkdwn(coffee.name)}* on the shelf, roasted ${formatShortDay(roasted.roastedOn)}.`;
    return { message: await coffeeCard(deps, who, coffee.id, [done, ...remark].join(' '), trx) };
  });
}

async function recordRoast(
  db: DbOrTransaction,
  who: Who,
  roasted: Roasted,
  { shelf, facts, now }: ShelfNow,
): Promise<{ readonly roastId: number | null; readonly remark: readonly string[] }> {
  if (roasted.greenMg === null) return { roastId: null, remark: [] };
  const { coffee } = requireShown(shelf, roasted.coffeeId);
  const roastId = await insertRoast(db, {
    workspace: who.workspace,
    coffeeId: coffee.id,
    recipeId: null,
    roastGroup: null,
    greenMg: roasted.greenMg,
    roastedMg: roasted.mg,
    roastedOn: roasted.roastedOn,
    level: coffee.level,
    colour: null,
    remarks: null,
    who: who.person,
    at: now,
  });
  if (coffee.greenMg !== null) {
    const greenMg = Math.max(0, coffee.greenMg - roasted.greenMg);
    await updateCoffee(db, who.workspace, { ...coffee, greenMg });
  }
  const roasts = await listRoastsAlone(db, who.workspace, coffee.id);
  const fallback = coffee.lossBp ?? facts.lossDefaultsBp[coffee.level];
  const at = roasts.findIndex((roast) => roast.id === roastId);
  const odd = oddBatches(roasts, fallback).find((batch) => batch.index === at);
  const lost = `It lost ${formatBp(lossBp(roasted.greenMg, roasted.mg))}`;
  const remark = odd
    ? `${lost}, where ${formatBp(odd.usualBp)} is usual: please look at both weights again.`
    : `${lost}; from now on I reckon with ${formatBp(estimateLoss(roasts, fallback).lossBp)}.`;
  return { roastId, remark: [remark] };
}

/** The form that puts roasted coffee on the shelf. */
export async function roastedTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { coffee: id } = readValue(OfCoffee, tap.value);
  const { shelf, facts } = await shelfNow(deps, tap.who);
  if (shelf.coffees.length === 0) {
    throw new KindRefusal('not now', 'There is no coffee yet.', 'Add one first: `/spoon shelf add`.');
  }
  const coffee = id === null ? null : requireShown(shelf, id).coffee;
  const coffees = shelf.coffees.map((shown) => shown.coffee);
  return { form: roastedForm(coffee, coffees, shelf.house, facts.bestByDays) };
}

/** Reads the form; what does not fit is said beside its field. */
export async function roastedSubmitted(deps: Deps, submission: Submission): Promise<SubmitAnswer> {
  const { who, form } = submission;
  const { coffee } = readValue(OfCoffee, form.privateMetadata);
  const { facts, shelf } = await shelfNow(deps, who);
  const errors: Record<string, string> = {};
  const roasted = readGramsField(written(form, 'roasted'), facts.unitSystem);
  if (!roasted.ok) errors['roasted'] = roasted.message;
  const greenText = written(form, 'green');
  const green = greenText === '' ? null : readGramsField(greenText, facts.unitSystem);
  if (green && !green.ok) errors['green'] = green.message;
  const day = written(form, 'day');
  if (!isLocalDay(day)) errors['day'] = 'Pick the day on which it was roasted.';
  else if (day > shelf.house.today) errors['day'] = 'That day is still to come.';
  const bestBy = written(form, 'bestBy');
  if (bestBy !== '' && bestBy <= day) errors['bestBy'] = 'Best by lies after the roast day.';
  if (!roasted.ok || Object.keys(errors).length > 0) return { errors };
  return await putOnShelf(deps, who, {
    coffeeId: coffee ?? Number(chosen(form, 'coffee')[0]),
    mg: roasted.mg,
    greenMg: green?.ok ? green.mg : null,
    roastedOn: day,
    bestBy: bestBy === '' ? null : bestBy,
  });
}
