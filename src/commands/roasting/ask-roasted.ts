import { formatBp } from '../../domain/measure/hundredths.js';
import { type Coffee, LEVELS, type Level } from '../../domain/record/coffee.js';
import { changeAsk, type RoastOutcome } from '../../domain/roast/roast-ask.js';
import { daysAfter, formatDay, isLocalDay, localDay } from '../../domain/when/local-day.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { findCoffee, updateCoffee } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { insertLot } from '../../store/lots.js';
import { insertRoast } from '../../store/roasts.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, type FormState, readValue, type Submission, type Tap, written } from '../common/intake.js';
import type { AskContext } from '../planning/ask-settle.js';
import { readGramsField } from '../shelf/shelf-grams.js';
import { AskValue, opened } from './ask-answer.js';
import { askContext, makeChange, requireAsk, requireRoaster } from './ask-change.js';
import { roastedForm } from './ask-forms.js';
import { loadAskState } from './ask-state.js';

/** A roast may be reported this long after its day. */
const REPORT_DAYS = 60;

export async function roastedTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { ask, context } = await opened(deps, tap);
  const coffee = await findCoffee(deps.db, tap.who.workspace, ask.coffeeId);
  if (!coffee) return {};
  const today = localDay(context.now, context.house.timeZone);
  const [day = today] = [ask.roastDay, today].sort();
  return { form: roastedForm(ask.id, coffee, ask.greenMg, day) };
}

/** Records what came out: the roast, the lot on the shelf, the green used; the loss is estimated anew from it. */
export async function roastedSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { ask: id } = readValue(AskValue, form.privateMetadata);
  return inTransaction(deps.db, async (trx) => {
    const ask = await requireAsk(trx, who.workspace, id);
    const context = await askContext(trx, deps, who);
    requireRoaster(context, ask);
    const coffee = await findCoffee(trx, who.workspace, ask.coffeeId);
    if (!coffee) return {};
    const read = readOutcome(form, context);
    if (!read.ok) return { errors: read.errors };
    const { outcome } = read;
    const allowed = changeAsk(ask, { kind: 'roasted', outcome });
    if (!allowed.ok) return { errors: { roasted: allowed.message } };
    const roastId = await keepRoast(trx, context, coffee, outcome);
    await makeChange(trx, context, ask, { kind: 'roasted', outcome }, {}, { roast_id: roastId });
    return { message: await recorded(trx, context, ask.id, coffee) };
  });
}

type ReadOutcome =
  | { readonly ok: true; readonly outcome: RoastOutcome }
  | { readonly ok: false; readonly errors: Readonly<Record<string, string>> };

function readOutcome(form: FormState, context: AskContext): ReadOutcome {
  const { house } = context;
  const green = readGramsField(written(form, 'green'), house.unitSystem);
  const roasted = readGramsField(written(form, 'roasted'), house.unitSystem);
  if (!green.ok) return { ok: false, errors: { green: green.message } };
  if (!roasted.ok) return { ok: false, errors: { roasted: roasted.message } };
  const today = localDay(context.now, house.timeZone);
  const roastedOn = written(form, 'day') || today;
  if (!isLocalDay(roastedOn) || roastedOn > today || roastedOn < daysAfter(today, -REPORT_DAYS))
    return {
      ok: false,
      errors: { day: `The roast day lies between ${formatDay(daysAfter(today, -REPORT_DAYS))} and today.` },
    };
  const colourText = written(form, 'colour').replace(',', '.');
  const colour = colourText === '' ? null : Number(colourText);
  if (colour !== null && !(colour >= 0 && colour <= 120))
    return { ok: false, errors: { colour: 'A reading is a number, like 62.' } };
  const level: Level | null = LEVELS.find((name) => name === chosen(form, 'level')[0]) ?? null;
  const remarks = written(form, 'remarks') || null;
  return {
    ok: true,
    outcome: { greenInMg: green.mg, roastedOutMg: roasted.mg, roastedOn, level, colour, remarks },
  };
}

/** Mass balance: the green leaves the store, the roasted coffee stands on the shelf. */
async function keepRoast(
  trx: DbOrTransaction,
  context: AskContext,
  coffee: Coffee,
  outcome: RoastOutcome,
): Promise<number> {
  const { workspace, who, now: at } = context;
  const { greenInMg: greenMg, roastedOutMg: roastedMg, roastedOn, level, colour, remarks } = outcome;
  const coffeeId = coffee.id;
  const roastId = await insertRoast(trx, {
    ...{ workspace, who, at, coffeeId, recipeId: null, roastGroup: null },
    ...{ greenMg, roastedMg, roastedOn, level, colour, remarks },
  });
  const bestBy = daysAfter(roastedOn, context.house.bestByDays);
  await insertLot(trx, { workspace, who, at, coffeeId, mg: roastedMg, roastedOn, bestBy, roastId });
  if (coffee.greenMg !== null) {
    const left = Math.max(0, coffee.greenMg - greenMg);
    await updateCoffee(trx, workspace, { ...coffee, greenMg: left });
  }
  return roastId;
}

async function recorded(trx: DbOrTransaction, context: AskContext, askId: number, coffee: Coffee) {
  const view = await loadAskState(trx, context.workspace, askId, context.now);
  const roast = view?.roast;
  if (!roast) return say('Recorded.');
  const odd =
    roast.oddFromBp === null
      ? ''
      : ` That is more than 2 points from the ${formatBp(roast.oddFromBp)} it has shown: please look at both weights again.`;
  return say(
    `*${mrkdwn(coffee.name)}* is on the shelf. Loss ${formatBp(roast.lossBp)}; the next ask reckons with ${formatBp(view.loss.lossBp)}.${odd}`,
  );
}
