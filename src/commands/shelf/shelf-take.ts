import { plainList } from '../../domain/measure/plain-list.js';
import { formatWeight, parseWeightField } from '../../domain/measure/weight.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { inTransaction } from '../../store/db.js';
import { setLotLeft } from '../../store/shelf.js';
import { findTasting } from '../../store/tastings.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, Id, readValue, type Submission, type Tap, type Who, written } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { replanShelf } from '../planning/plan-roasts.js';
import { OfCoffee } from './change-coffee.js';
import { takeForm } from './shelf-roasted-form.js';
import { coffeeCard, requireShown, shelfNow } from './shelf-view.js';

/** What to take: of one lot, or of the oldest first when none is named; all of it when `mg` is null. */
export type Taken = { readonly coffeeId: number; readonly lotId: number | null; readonly mg: number | null };

/** Takes roasted coffee off the shelf; tastings that held it are named. */
export async function takeOffShelf(deps: Deps, who: Who, taken: Taken): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const { shelf, facts, now } = await shelfNow(deps, who, trx);
    const shown = requireShown(shelf, taken.coffeeId);
    const lots = shown.lots
      .map(({ lot }) => lot)
      .filter((lot) => taken.lotId === null || lot.id === taken.lotId);
    const there = lots.reduce((sum, lot) => sum + lot.mg, 0);
    const wanted = taken.mg ?? there;
    if (wanted > there || there === 0) {
      const said = there === 0 ? 'nothing' : formatWeight(there, facts.unitSystem);
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
      const lost = await setLotLeft(trx, who.workspace, lot.id, lot.mg - mg, now);
      for (const { tastingId } of lost) losers.add(tastingId);
    }
    await replanShelf(trx, { workspace: who.workspace, who: who.person, now });
    const names: string[] = [];
    for (const id of losers) names.push(`T${(await findTasting(trx, who.workspace, id))?.number ?? id}`);
    const held =
      names.length > 0
        ? ` ${plainList(names)} had held some of it: look at ${names.length > 1 ? 'their tables' : 'its table'}.`
        : '';
    const done = `Took ${formatWeight(wanted, facts.unitSystem)} of *${mrkdwn(shown.coffee.name)}* off the shelf.${held}`;
    return { message: await coffeeCard(deps, who, shown.coffee.id, done, trx) };
  });
}

/** The form that takes coffee off the shelf. */
export async function takeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { shelf } = await shelfNow(deps, tap.who);
  const shown = requireShown(shelf, readValue(Id, tap.value));
  if (shown.lots.length === 0) {
    throw new UserError(`Nothing of ${mrkdwn(shown.coffee.name)} is on the shelf.`);
  }
  return { form: takeForm(shown, shelf.house) };
}

/** Reads the form; what does not fit is said beside its field. */
export async function takeSubmitted(deps: Deps, submission: Submission): Promise<SubmitAnswer> {
  const { who, form } = submission;
  const { coffee } = readValue(OfCoffee, form.privateMetadata);
  const { facts } = await shelfNow(deps, who);
  const text = written(form, 'grams');
  const grams = text === '' ? null : parseWeightField(text, facts.unitSystem);
  if (grams && !grams.ok) return { errors: { grams: grams.message } };
  const lot = chosen(form, 'lot')[0];
  return await takeOffShelf(deps, who, {
    coffeeId: coffee ?? 0,
    lotId: lot === undefined ? null : Number(lot),
    mg: grams?.ok ? grams.mg : null,
  });
}
