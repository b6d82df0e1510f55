import { z } from 'zod';
import { formatBp } from '../../domain/measure/hundredths.js';
import { formatWeight } from '../../domain/measure/weight.js';
import { likelyDrum } from '../../domain/roast/loss.js';
import { formatShortDay, isLocalDay } from '../../domain/when/local-day.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { findCoffee } from '../../store/coffees.js';
import { inTransaction } from '../../store/db.js';
import { findRoast, type Roast } from '../../store/roasts.js';
import { findLotOfRoast } from '../../store/shelf.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, Id, readValue, type Submission, type Tap, type Who, written } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import {
  loadSubject,
  type RecordedRoast,
  type ReportedRoast,
  recordRoast,
  takeBackRoast,
} from '../planning/record-roast.js';
import { notRecorded, readRoastForm } from '../planning/roast-form.js';
import { OfCoffee } from './change-coffee.js';
import { correctRoastForm, putOnForm, STRIKE, sureMessage } from './shelf-roasted-form.js';
import { coffeeCard, requireShown, shelfNow } from './shelf-view.js';

/** Roasted coffee for the shelf as it is reported: `greenMg` when its charge is known, else null. */
export type Roasted = Omit<ReportedRoast, 'subject'> & { readonly coffeeId: number };

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
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const { shelf, facts, now } = await shelfNow(deps, who, trx);
    const { coffee } = requireShown(shelf, roasted.coffeeId);
    const context = { workspace: who.workspace, who: who.person, now, house: facts };
    const subject = { kind: 'coffee', coffee } as const;
    const recorded = await recordRoast(trx, context, { level: coffee.level, ...roasted, subject });
    if (recorded.kind !== 'recorded') return ask(recorded);
    const weight = formatWeight(roasted.roastedMg, facts.unitSystem);
    const verb = roasted.replaces ? 'Corrected:' : 'Put';
    const done = `${verb} ${weight} of *${mrkdwn(coffee.name)}* on the shelf, roasted ${formatShortDay(roasted.roastedOn)}.`;
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
  const { shelf, facts } = await shelfNow(deps, tap.who);
  if (shelf.coffees.length === 0) {
    throw new UserError('There is no coffee yet.', 'Add one first: `/spoon shelf add`.');
  }
  const coffee = id === null ? null : requireShown(shelf, id).coffee;
  const coffees = shelf.coffees.map((shown) => shown.coffee);
  return { form: putOnForm(coffee, coffees, shelf.house, facts.bestByDays) };
}

/** Reads the form; what does not fit is said beside its field, and a question brings the form back. */
export async function putOnSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { coffee } = readValue(OfCoffee, form.privateMetadata);
  const { facts, shelf } = await shelfNow(deps, who);
  const read = readRoastForm(form, shelf.house.today, facts.unitSystem, false);
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
      return putOnForm(shown, [], shelf.house, facts.bestByDays, { ...start, bestBy });
    }),
  );
}

const OfRoast = z.object({ roast: Id });

/** The form that corrects a roast on record, or strikes it. */
export async function correctTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { roast: id } = readValue(OfRoast, tap.value);
  await requireAllowed(deps.db, tap.who, 'change shelf');
  const { shelf } = await shelfNow(deps, tap.who);
  const roast = await requireRoast(deps, tap.who, id);
  const coffee = await findCoffee(deps.db, tap.who.workspace, roast.coffeeId);
  return { form: correctRoastForm(roast, coffee?.name ?? 'This coffee', shelf.house) };
}

/** Corrects the roast, or strikes it: green, lot, loss and asks follow. */
export async function correctSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { roast: id } = readValue(OfRoast, form.privateMetadata);
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const { facts, shelf, now } = await shelfNow(deps, who, trx);
    const context = { workspace: who.workspace, who: who.person, now, house: facts };
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
    const read = readRoastForm(form, shelf.house.today, facts.unitSystem, true);
    if (!read.ok) return { errors: read.errors };
    const { level, colour, remarks } = replaces;
    const subject = await loadSubject(trx, who.workspace, replaces, coffee);
    const bestBy = (await findLotOfRoast(trx, who.workspace, id))?.bestBy ?? null;
    const likely = likelyDrum(replaces.drum, read.report.greenMg, facts.drums);
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
