import { z } from 'zod';
import { formatBp } from '../../domain/measure/hundredths.js';
import { plainList } from '../../domain/measure/plain-list.js';
import { formatWeight, parseWeightField } from '../../domain/measure/weight.js';
import type { RoastReport } from '../../domain/roast/check-roast.js';
import { likelyDrum } from '../../domain/roast/loss.js';
import { formatShortDay, isLocalDay } from '../../domain/when/local-day.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { findCoffee } from '../../store/coffees.js';
import { findRoast, type Roast } from '../../store/roasts.js';
import { findLotOfRoast, setLotLeft } from '../../store/shelf.js';
import { findTasting } from '../../store/tastings.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, Id, readValue, type Submission, type Tap, type Who, written } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { replanShelf } from '../planning/plan-roasts.js';
import {
  loadSubject,
  type RecordedRoast,
  type ReportedRoast,
  recordRoast,
  takeBackRoast,
} from '../planning/record-roast.js';
import { notRecorded, readRoastForm } from '../planning/roast-form.js';
import { OfCoffee } from './change-coffee.js';
import { correctRoastForm, putOnForm, STRIKE, sureMessage, takeForm } from './shelf-roasted-form.js';
import { changeShelf, coffeeCard, loadShelf, requireShown } from './shelf-view.js';

/** Roasted coffee for the shelf as it is reported: `greenMg` when its charge is known, else null. */
type Roasted = RoastReport & Pick<ReportedRoast, 'bestBy'> & { readonly coffeeId: number };

/** A roast said in words, for the button that says that it is so. */
const Said = z.object({
  coffee: Id,
  mg: z.number().int().positive(),
  green: z.number().int().positive(),
  day: z.string().refine(isLocalDay),
  drum: z.string().nullable(),
  sure: z.boolean(),
});

/** Puts roasted coffee on the shelf and says what was understood; `ask` finds what to do with a question. */
async function putOn<T>(
  deps: Deps,
  who: Who,
  roasted: Roasted,
  ask: (checked: Exclude<RecordedRoast, { readonly kind: 'recorded' }>) => T,
): Promise<Answer | T> {
  return changeShelf(deps, who, async ({ trx, shelf, context }) => {
    const { coffee } = requireShown(shelf, roasted.coffeeId);
    const subject = { kind: 'coffee', coffee } as const;
    const recorded = await recordRoast(trx, context, { level: coffee.level, ...roasted, subject });
    if (recorded.kind !== 'recorded') return ask(recorded);
    const weight = formatWeight(roasted.roastedMg, shelf.house.unitSystem);
    const done = `Put ${weight} of *${mrkdwn(coffee.name)}* on the shelf, roasted ${formatShortDay(roasted.roastedOn)}.`;
    return { message: await coffeeCard(deps, who, coffee.id, `${done}${lossSentence(recorded)}`, trx) };
  });
}

function lossSentence(recorded: Extract<RecordedRoast, { readonly kind: 'recorded' }>): string {
  if (recorded.lossBp === null) return '';
  const lost = ` It lost ${formatBp(recorded.lossBp)}; from now on I reckon with ${formatBp(recorded.estimate.lossBp)}.`;
  return recorded.drum === null ? lost : `${lost} That goes for the ${mrkdwn(recorded.drum)}.`;
}

/** Roasted coffee said in words; what looks like a slip is asked about with a button. */
export async function putOnShelf(deps: Deps, who: Who, roasted: Roasted): Promise<Answer> {
  return putOn(deps, who, roasted, (checked) => {
    if (checked.kind === 'refused') throw new UserError(checked.message, null, checked.field);
    const { coffeeId: coffee, roastedMg: mg, greenMg: green, roastedOn: day, drum } = roasted;
    return { message: sureMessage(checked, { coffee, mg, green, day, drum }) };
  });
}

/** The button under that question. */
export async function sureTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { coffee, mg, green, day, ...said } = readValue(Said, tap.value);
  const report = { coffeeId: coffee, roastedMg: mg, greenMg: green, roastedOn: day, ...said };
  return putOnShelf(deps, tap.who, report);
}

/** The form that puts roasted coffee on the shelf. */
export async function putOnTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { coffee: id } = readValue(OfCoffee, tap.value);
  const shelf = await loadShelf(deps, tap.who);
  if (shelf.coffees.length === 0) {
    throw new UserError('There is no coffee yet.', 'Add one first: `/spoon shelf add`.');
  }
  const coffee = id === null ? null : requireShown(shelf, id).coffee;
  const coffees = shelf.coffees.map((shown) => shown.coffee);
  return { form: putOnForm(coffee, coffees, shelf.house) };
}

/** Reads the form; what does not fit is said beside its field, and a question brings the form back. */
export async function putOnSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { coffee } = readValue(OfCoffee, form.privateMetadata);
  const shelf = await loadShelf(deps, who);
  const read = readRoastForm(form, { now: deps.clock.now(), house: shelf.house }, false);
  const bestBy = written(form, 'bestBy');
  const late = bestBy !== '' && bestBy <= written(form, 'day');
  const bestByError = late ? { bestBy: 'Best by lies after the roast day.' } : {};
  if (!read.ok) return { errors: { ...read.errors, ...bestByError } };
  if (late) return { errors: bestByError };
  const coffeeId = coffee ?? Number(chosen(form, 'coffee')[0]);
  const roasted = { ...read.report, coffeeId, bestBy: bestBy === '' ? null : bestBy };
  return putOn<SubmitAnswer>(deps, who, roasted, (checked) =>
    notRecorded(form, checked, (start) => {
      const shown = requireShown(shelf, coffeeId).coffee;
      return putOnForm(shown, [], shelf.house, { ...start, bestBy });
    }),
  );
}

const OfRoast = z.object({ roast: Id });

/** The form that corrects a roast on record, or strikes it. */
export async function correctTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { roast: id } = readValue(OfRoast, tap.value);
  await requireAllowed(deps.db, tap.who, 'change shelf');
  const shelf = await loadShelf(deps, tap.who);
  const roast = await requireRoast(deps, tap.who, id);
  const coffee = await findCoffee(deps.db, tap.who.workspace, roast.coffeeId);
  return { form: correctRoastForm(roast, coffee?.name ?? 'This coffee', shelf.house) };
}

/** Corrects the roast, or strikes it: green, lot, loss and asks follow. */
export async function correctSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { roast: id } = readValue(OfRoast, form.privateMetadata);
  return changeShelf(deps, who, async ({ trx, shelf, context }) => {
    const replaces = await requireRoast({ ...deps, db: trx }, who, id);
    const coffee = await findCoffee(trx, who.workspace, replaces.coffeeId);
    if (!coffee) throw new Error(`roast ${id} is of no coffee`);
    const card = async (done: string) =>
      shelf.coffees.some((shown) => shown.coffee.id === coffee.id)
        ? coffeeCard(deps, who, coffee.id, done, trx)
        : say(done);
    if (chosen(form, 'what')[0] === STRIKE) {
      await takeBackRoast(trx, context, replaces);
      return { message: await card('Struck: it counts no more, and its green is back in the store.') };
    }
    const read = readRoastForm(form, context, true);
    if (!read.ok) return { errors: read.errors };
    const { level, colour, remarks } = replaces;
    const subject = await loadSubject(trx, who.workspace, replaces, coffee);
    const bestBy = (await findLotOfRoast(trx, who.workspace, id))?.bestBy ?? null;
    const likely = likelyDrum(replaces.drum, read.report.greenMg, shelf.house.drums);
    const report = { ...read.report, drum: read.report.drum ?? likely };
    const recorded = await recordRoast(trx, context, {
      ...report,
      ...{ subject, replaces, level, colour, remarks },
      bestBy: report.roastedOn === replaces.roastedOn ? bestBy : null,
    });
    if (recorded.kind !== 'recorded')
      return notRecorded(form, recorded, (start) =>
        correctRoastForm(replaces, coffee.name, shelf.house, start),
      );
    return { message: await card(`Corrected.${lossSentence(recorded)}`) };
  });
}

async function requireRoast(deps: Pick<Deps, 'db'>, who: Who, id: number): Promise<Roast> {
  const roast = await findRoast(deps.db, who.workspace, id);
  if (roast) return roast;
  throw new UserError('That roast was corrected or struck meanwhile.', 'Open its coffee: `/spoon shelf`.');
}

/** What to take: of one lot, or of the oldest first when none is named; all of it when `mg` is null. */
type Taken = { readonly coffeeId: number; readonly lotId: number | null; readonly mg: number | null };

/** Takes roasted coffee off the shelf; tastings that held it are named. */
export async function takeOffShelf(deps: Deps, who: Who, taken: Taken): Promise<Answer> {
  return changeShelf(deps, who, async ({ trx, shelf, context }) => {
    const shown = requireShown(shelf, taken.coffeeId);
    const lots = shown.lots
      .map(({ lot }) => lot)
      .filter((lot) => taken.lotId === null || lot.id === taken.lotId);
    const there = lots.reduce((sum, lot) => sum + lot.mg, 0);
    const wanted = taken.mg ?? there;
    if (wanted > there || there === 0) {
      const said = there === 0 ? 'nothing' : formatWeight(there, shelf.house.unitSystem);
      throw new UserError(
        `There is ${said} of ${mrkdwn(shown.coffee.name)} to take.`,
        'Say how much, like `200g`, or leave it empty to take all of it.',
        'grams',
      );
    }
    let left = wanted;
    const losers = new Set<number>();
    for (const lot of lots) {
      const mg = Math.min(left, lot.mg);
      left -= mg;
      if (mg === 0) continue;
      const lost = await setLotLeft(trx, who.workspace, lot.id, lot.mg - mg, context.now);
      for (const { tastingId } of lost) losers.add(tastingId);
    }
    await replanShelf(trx, context);
    const names: string[] = [];
    for (const id of losers) names.push(`T${(await findTasting(trx, who.workspace, id))?.number ?? id}`);
    const held =
      names.length > 0
        ? ` ${plainList(names)} had held some of it: look at ${names.length > 1 ? 'their tables' : 'its table'}.`
        : '';
    const done = `Took ${formatWeight(wanted, shelf.house.unitSystem)} of *${mrkdwn(shown.coffee.name)}* off the shelf.${held}`;
    return { message: await coffeeCard(deps, who, shown.coffee.id, done, trx) };
  });
}

/** The form that takes coffee off the shelf. */
export async function takeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const shelf = await loadShelf(deps, tap.who);
  const shown = requireShown(shelf, readValue(Id, tap.value));
  if (shown.lots.length === 0) {
    throw new UserError(`Nothing of ${mrkdwn(shown.coffee.name)} is on the shelf.`);
  }
  return { form: takeForm(shown, shelf.house) };
}

/** Reads the form; what does not fit is said beside its field. */
export async function takeSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { coffee } = readValue(OfCoffee, form.privateMetadata);
  const { house } = await loadShelf(deps, who);
  const text = written(form, 'grams');
  const grams = text === '' ? null : parseWeightField(text, house.unitSystem);
  if (grams && !grams.ok) return { errors: { grams: grams.message } };
  const lot = chosen(form, 'lot')[0];
  return takeOffShelf(deps, who, {
    coffeeId: coffee ?? 0,
    lotId: lot === undefined ? null : Number(lot),
    mg: grams?.ok ? grams.mg : null,
  });
}
