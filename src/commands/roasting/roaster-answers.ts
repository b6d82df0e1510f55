import type { ModalView } from '@slack/types';
import { formatBp } from '../../domain/measure/hundredths.js';
import { formatGrams } from '../../domain/measure/weight.js';
import type { StoredAsk } from '../../domain/record/ask.js';
import { type Coffee, LEVELS } from '../../domain/record/coffee.js';
import { likelyDrum } from '../../domain/roast/loss.js';
import { comingRoastDays } from '../../domain/roast/roast-day.js';
import { servesTable } from '../../domain/roast/shelf.js';
import { formatDay, isLocalDay, type LocalDay, localDay } from '../../domain/when/local-day.js';
import { say, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { dateInput, form, radioInput, selectInput, textInput } from '../../kit/form.js';
import { UserError } from '../../runtime/errors.js';
import type { Db } from '../../store/db.js';
import { findTasting } from '../../store/tastings.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, type Submission, type Tap, type Who, written } from '../common/intake.js';
import { loadTableNeed } from '../planning/load-plan.js';
import { type AskContext, changeAskAndPlan, requireRoaster } from '../planning/plan-roasts.js';
import { recordRoast } from '../planning/record-roast.js';
import { notRecorded, questionInputs, type RoastStart, readRoastForm } from '../planning/roast-form.js';
import { type OpenAsk, onAsk } from './ask-context.js';

/** The ask behind a tap or form of its roaster, in one transaction. */
async function onOwnAsk<T>(
  deps: Deps,
  who: Who,
  json: string,
  run: (open: OpenAsk) => Promise<T>,
): Promise<T> {
  return onAsk(deps, who, json, async (open) => {
    requireRoaster(open.context, open.ask);
    return run(open);
  });
}

/** The roaster accepts the day that was asked for. */
export async function acceptTap(deps: Deps, tap: Tap): Promise<Answer> {
  return onOwnAsk(deps, tap.who, tap.value, async ({ trx, context, ask }) => {
    if (ask.roastDay < localDay(context.now, context.house.timeZone))
      throw new UserError(
        `${formatDay(ask.roastDay)} has passed.`,
        'Offer another day, or tap Roasted if it was roasted.',
      );
    await changeAskAndPlan(trx, context, ask, { kind: 'accept' });
    return {};
  });
}

/** Opens the form for another day, with the roast days that fit first. */
export async function offerTap(deps: Deps, tap: Tap): Promise<Answer> {
  return onOwnAsk(deps, tap.who, tap.value, async ({ trx, context, ask, coffee }) => {
    const days = comingRoastDays(context.now, context.house, 6).filter((day) => day !== ask.roastDay);
    const fitting = await daysThatFit(trx, context, ask, days);
    const others = days.filter((day) => !fitting.includes(day)).slice(0, 3);
    return { form: offerForm(ask.id, coffee.name, fitting, others) };
  });
}

export async function offerSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const picked = chosen(form, 'day')[0] ?? '';
  const day = picked === OTHER_DAY || picked === '' ? written(form, 'other') : picked;
  if (!isLocalDay(day)) return { errors: { other: 'Which day would do?' } };
  return onOwnAsk(deps, who, form.privateMetadata, async ({ trx, context, ask }) => {
    if (day < localDay(context.now, context.house.timeZone))
      return { errors: { other: `${formatDay(day)} is past. Offer a day to come.` } };
    if (day === ask.roastDay)
      return { errors: { other: `${formatDay(day)} is the day that was asked for: accept it instead.` } };
    await changeAskAndPlan(trx, context, ask, { kind: 'offer', day }, { day, notOn: ask.roastDay });
    return {};
  });
}

export async function declineTap(deps: Deps, tap: Tap): Promise<Answer> {
  return onOwnAsk(deps, tap.who, tap.value, async ({ ask, coffee }) => ({
    form: declineForm(ask.id, coffee.name),
  }));
}

export async function declineSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const because = written(form, 'because') || null;
  return onOwnAsk(deps, who, form.privateMetadata, async ({ trx, context, ask }) => {
    await changeAskAndPlan(trx, context, ask, { kind: 'decline' }, { because });
    return {};
  });
}

/** A roast that did not happen: its tables are planned anew. */
export async function missedTap(deps: Deps, tap: Tap): Promise<Answer> {
  return onOwnAsk(deps, tap.who, tap.value, async ({ trx, context, ask }) => {
    await changeAskAndPlan(trx, context, ask, { kind: 'missed' });
    return { message: say('Noted. The tables that wait for it are planned anew, and their hosts are told.') };
  });
}

/** Opens the form for what came out. */
export async function roastedTap(deps: Deps, tap: Tap): Promise<Answer> {
  return onOwnAsk(deps, tap.who, tap.value, async ({ context, ask, coffee }) => {
    const today = localDay(context.now, context.house.timeZone);
    const [day = today] = [ask.roastDay, today].sort();
    const start = { green: formatGrams(ask.greenMg), roasted: '', day, asked: null };
    return { form: roastedForm(ask.id, coffee, start) };
  });
}

/** Records what came out; the loss is estimated anew from it. */
export async function roastedSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  return onOwnAsk(deps, who, form.privateMetadata, async ({ trx, context, ask, coffee }) => {
    const { house } = context;
    const read = readRoastForm(form, context, true);
    if (!read.ok) return { errors: read.errors };
    const reading = written(form, 'colour').replace(',', '.');
    const colour = reading === '' ? null : Number(reading);
    const level = LEVELS.find((name) => name === chosen(form, 'level')[0]) ?? null;
    if (colour !== null && !(colour >= 0 && colour <= 120))
      return { errors: { colour: 'A reading is a number, like 62.' } };
    const { report } = read;
    const recorded = await recordRoast(trx, context, {
      ...report,
      drum: report.drum ?? likelyDrum(ask.drum, report.greenMg, house.drums),
      subject: { kind: 'coffee', coffee },
      ...{ ask, colour, level, remarks: written(form, 'remarks') || null },
    });
    if (recorded.kind !== 'recorded')
      return notRecorded(form, recorded, (start) => roastedForm(ask.id, coffee, start));
    const drum = recorded.drum === null ? '' : ` in the ${mrkdwn(recorded.drum)}`;
    const lost = formatBp(recorded.lossBp ?? 0);
    const next = formatBp(recorded.estimate.lossBp);
    const said = `*${mrkdwn(coffee.name)}* is on the shelf. Loss ${lost}${drum}; the next ask there reckons with ${next}.`;
    return { message: say(said) };
  });
}

/** The days on which a roast would come to every table behind the ask rested and not too old. */
async function daysThatFit(
  db: Db,
  context: AskContext,
  ask: StoredAsk,
  days: readonly LocalDay[],
): Promise<readonly LocalDay[]> {
  let fitting = days;
  for (const { tastingId } of ask.wanted) {
    const tasting = await findTasting(db, context.workspace, tastingId);
    if (!tasting) continue;
    const table = await loadTableNeed(db, context, tasting);
    const rest = table.rests.get(ask.coffeeId);
    if (rest) fitting = fitting.filter((day) => servesTable(day, rest, table.tableDay));
  }
  return fitting;
}

/** Value of the choice that leaves the day to the picker. */
const OTHER_DAY = 'other';

/** Another day: those that fit the table as choices, and any other day. */
function offerForm(
  askId: number,
  coffee: string,
  fitting: readonly LocalDay[],
  others: readonly LocalDay[],
): ModalView {
  const fit = fitting.map((day) => ({ label: formatDay(day), value: day }));
  const unfit = others.map((day) => ({
    label: `${formatDay(day)} (the table would have to move)`,
    value: day,
  }));
  const none = fitting.length === 0 ? ' No other roast day leaves the rest it needs before the table.' : '';
  return form(
    'ask.offer',
    'Offer another day',
    'Offer',
    [
      section(`*${mrkdwn(coffee)}* alone.${none}`),
      radioInput('day', 'Day', [...fit, ...unfit, { label: 'Another day, picked below', value: OTHER_DAY }]),
      dateInput('other', 'Another day', { optional: true }),
    ],
    { ask: askId },
  );
}

/** A reason helps the host to find another way; it may stay empty. */
function declineForm(askId: number, coffee: string): ModalView {
  return form(
    'ask.decline',
    'Decline the roast',
    'Decline',
    [
      section(`*${mrkdwn(coffee)}* alone. If another day would do, offer that instead.`),
      textInput('because', 'Why', { optional: true, limit: 300, placeholder: 'The drum is full that week' }),
    ],
    { ask: askId },
  );
}

/** What really went in and came out. */
function roastedForm(askId: number, coffee: Pick<Coffee, 'name' | 'level'>, start: RoastStart): ModalView {
  return form(
    'ask.roasted',
    'What came out',
    'Record',
    [
      section(`*${mrkdwn(coffee.name)}* alone. Weigh it once it has cooled.`),
      ...questionInputs(start),
      textInput('green', 'Green in', { limit: 20, initial: start.green }),
      textInput('roasted', 'Roasted out', { limit: 20, placeholder: '405 g', initial: start.roasted }),
      dateInput('day', 'Roast day', { initial: start.day }),
      selectInput(
        'level',
        'Roast level',
        LEVELS.map((level) => ({ label: level, value: level })),
        { optional: true, initial: coffee.level },
      ),
      textInput('colour', 'Colour reading', {
        optional: true,
        limit: 8,
        hint: 'On the infrared scale of the house, 25 very dark to 95 very light.',
      }),
      textInput('remarks', 'Remarks', { optional: true, lines: true, limit: 500 }),
    ],
    { ask: askId },
  );
}
