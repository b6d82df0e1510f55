import { z } from 'zod';
import { comingRoastDays } from '../../domain/roast/roast-day.js';
import { restState } from '../../domain/roast/shelf.js';
import { formatDay, isLocalDay, type LocalDay, localDay } from '../../domain/when/local-day.js';
import { say } from '../../kit/blocks.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { StoredAsk } from '../../store/asks.js';
import { coffeesById } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findTasting } from '../../store/tastings.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, Id, readValue, type Submission, type Tap, written } from '../common/intake.js';
import { loadTable } from '../common/load-table.js';
import type { AskContext } from '../planning/ask-settle.js';
import { tableNeed } from '../planning/plan-roasts-supply.js';
import { askContext, makeChange, requireAsk, requireRoaster } from './ask-change.js';
import { declineForm, OTHER_DAY, offerForm } from './ask-forms.js';

export const AskValue = z.object({ ask: Id });

/** The roaster accepts the day that was asked for. */
export async function acceptTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { ask: id } = readValue(AskValue, tap.value);
  return inTransaction(deps.db, async (trx) => {
    const ask = await requireAsk(trx, tap.who.workspace, id);
    const context = await askContext(trx, deps, tap.who);
    requireRoaster(context, ask);
    const late = ask.roastDay < localDay(context.now, context.house.timeZone);
    if (late)
      throw new KindRefusal(
        'not now',
        `${formatDay(ask.roastDay)} has passed.`,
        'Offer another day, or tap Roasted if it was roasted.',
      );
    await makeChange(trx, context, ask, { kind: 'accept' });
    return {};
  });
}

/** Opens the form for another day, with the roast days that fit first. */
export async function offerTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { ask, context, name } = await opened(deps, tap);
  const days = comingRoastDays(context.now, context.house, 6).filter((day) => day !== ask.roastDay);
  const fitting = await daysThatFit(deps.db, context, ask, days);
  return { form: offerForm(ask.id, name, fitting, days.filter((day) => !fitting.includes(day)).slice(0, 3)) };
}

export async function offerSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { ask: id } = readValue(AskValue, form.privateMetadata);
  const picked = chosen(form, 'day')[0] ?? '';
  const day = picked === OTHER_DAY || picked === '' ? written(form, 'other') : picked;
  if (!isLocalDay(day)) return { errors: { other: 'Which day would do?' } };
  return inTransaction(deps.db, async (trx) => {
    const ask = await requireAsk(trx, who.workspace, id);
    const context = await askContext(trx, deps, who);
    requireRoaster(context, ask);
    if (day < localDay(context.now, context.house.timeZone))
      return { errors: { other: `${formatDay(day)} is past. Offer a day to come.` } };
    if (day === ask.roastDay)
      return { errors: { other: `${formatDay(day)} is the day that was asked for: accept it instead.` } };
    await makeChange(trx, context, ask, { kind: 'offer', day }, { day, notOn: ask.roastDay });
    return {};
  });
}

export async function declineTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { ask, name } = await opened(deps, tap);
  return { form: declineForm(ask.id, name) };
}

export async function declineSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { ask: id } = readValue(AskValue, form.privateMetadata);
  const because = written(form, 'because') || null;
  return inTransaction(deps.db, async (trx) => {
    const ask = await requireAsk(trx, who.workspace, id);
    const context = await askContext(trx, deps, who);
    requireRoaster(context, ask);
    await makeChange(trx, context, ask, { kind: 'decline', because }, { because });
    return {};
  });
}

/** A roast that did not happen: its tables are planned anew. */
export async function missedTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { ask: id } = readValue(AskValue, tap.value);
  return inTransaction(deps.db, async (trx) => {
    const ask = await requireAsk(trx, tap.who.workspace, id);
    const context = await askContext(trx, deps, tap.who);
    requireRoaster(context, ask);
    await makeChange(trx, context, ask, { kind: 'missed' });
    return { message: say('Noted. The tables that wait for it are planned anew, and their hosts are told.') };
  });
}

/** The ask behind a tap of its roaster, for opening a form. */
export async function opened(
  deps: Deps,
  tap: Tap,
): Promise<{ readonly ask: StoredAsk; readonly context: AskContext; readonly name: string }> {
  const { ask: id } = readValue(AskValue, tap.value);
  const ask = await requireAsk(deps.db, tap.who.workspace, id);
  const context = await askContext(deps.db, deps, tap.who);
  requireRoaster(context, ask);
  const coffee = (await coffeesById(deps.db, tap.who.workspace, [ask.coffeeId])).get(ask.coffeeId);
  return { ask, context, name: coffee?.name ?? 'This coffee' };
}

async function daysThatFit(
  db: DbOrTransaction,
  context: AskContext,
  ask: StoredAsk,
  days: readonly LocalDay[],
): Promise<readonly LocalDay[]> {
  let fitting = days;
  for (const { tastingId } of ask.wanted) {
    const tasting = await findTasting(db, context.workspace, tastingId);
    if (!tasting) continue;
    const table = tableNeed(await loadTable(db, context.workspace, tasting), context.house);
    const rest = table.rests.get(ask.coffeeId);
    if (!rest) continue;
    fitting = fitting.filter(
      (day) => restState({ roastedOn: day, bestBy: null }, rest, table.tableDay) === 'good',
    );
  }
  return fitting;
}
