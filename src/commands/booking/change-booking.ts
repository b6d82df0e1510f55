import { hasNotBegun, type Tasting, tastingName } from '../../domain/record/tasting.js';
import { formatTime, formatWhen, isLocalDay, localDay } from '../../domain/when/local-day.js';
import { parseWhen } from '../../domain/when/parse-when.js';
import { wallTime } from '../../domain/when/wall-time.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { type Db, inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { type ChangeContext, changeTasting } from '../common/change-tasting.js';
import {
  OfTasting,
  readValue,
  type Submission,
  type Tap,
  tastingOf,
  type Who,
  written,
} from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { requireAllowed } from '../common/standing.js';
import type { TableReadiness } from '../planning/load-plan.js';
import { planTableRoasts } from '../planning/plan-roasts.js';
import { moveForm } from './booking-forms.js';

/**
 * Moves a tasting that has not begun: what was set aside is looked at anew, and so are its roast asks and
 * reminders. Call it inside the transaction of the command; moving to the same time changes nothing.
 */
export async function moveTasting(
  trx: Db,
  context: ChangeContext,
  tasting: Tasting,
  at: Date,
): Promise<TableReadiness> {
  await changeTasting(trx, context, tasting, 'move', {
    values: { starts_at: at.toISOString() },
    detail: { from: tasting.startsAt.toISOString(), to: at.toISOString() },
    refused: `${tastingName(tasting)} cannot be moved. `,
  });
  return planTableRoasts(trx, context, tasting.id);
}

/** Cancels a tasting in any state before decided. */
export async function cancelTasting(trx: Db, context: ChangeContext, tasting: Tasting): Promise<void> {
  await changeTasting(trx, context, tasting, 'cancel');
  await planTableRoasts(trx, context, tasting.id);
}

/** `book T4 thu 15:00` moves, `book T4 cancel` cancels, `book T4` alone opens the form. */
export async function changeByWords(deps: Deps, who: Who, tasting: Tasting, words: string): Promise<Answer> {
  await requireAllowed(deps.db, who, 'change table', tasting);
  if (/^cancel\b/i.test(words)) return cancel(deps, who, tasting);
  const house = await loadHouse(deps.db, who.workspace);
  const rest = words.replace(/^(move|to)\b\s*(to\b\s*)?/i, '');
  if (rest === '') return openMoveForm(deps, who, tasting);
  const when = parseWhen(rest, deps.clock.now(), house.timeZone);
  if (!when.ok)
    throw new UserError(
      mrkdwn(when.message),
      `Like \`/spoon book ${tastingName(tasting)} thu 15:00\` or \`/spoon book ${tastingName(tasting)} cancel\``,
    );
  return move(deps, who, tasting, when.at);
}

export async function changeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { tasting } = await requireTable(deps.db, tap.who.workspace, tastingOf(tap));
  await requireAllowed(deps.db, tap.who, 'change table', tasting);
  return openMoveForm(deps, tap.who, tasting);
}

export async function cancelTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { tasting } = await requireTable(deps.db, tap.who.workspace, tastingOf(tap));
  const answer = await cancel(deps, tap.who, tasting);
  if (!tap.form) return answer;
  return {
    replaceForm: {
      type: 'modal',
      title: { type: 'plain_text', text: 'Cancelled' },
      blocks: [...(answer.message?.blocks ?? [])],
    },
  };
}

export async function moveSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { tasting } = await requireTable(
    deps.db,
    who.workspace,
    readValue(OfTasting, form.privateMetadata).tasting,
  );
  await requireAllowed(deps.db, who, 'change table', tasting);
  const house = await loadHouse(deps.db, who.workspace);
  return move(
    deps,
    who,
    tasting,
    readStart(written(form, 'day'), written(form, 'time'), house.timeZone, deps.clock.now()),
  );
}

async function openMoveForm(deps: Deps, who: Who, tasting: Tasting): Promise<Answer> {
  const { timeZone: zone } = await loadHouse(deps.db, who.workspace);
  return {
    form: moveForm({
      tastingId: tasting.id,
      name: tastingName(tasting),
      when: formatWhen(tasting.startsAt, zone, deps.clock.now()),
      day: localDay(tasting.startsAt, zone),
      time: formatTime(tasting.startsAt, zone),
      zone,
      movable: hasNotBegun(tasting),
    }),
  };
}

async function move(deps: Deps, who: Who, tasting: Tasting, at: Date): Promise<Answer> {
  const now = deps.clock.now();
  const { timeZone } = await loadHouse(deps.db, who.workspace);
  const plan = await inTransaction(deps.db, (trx) =>
    moveTasting(trx, { workspace: who.workspace, now, who: who.person }, tasting, at),
  );
  const lines = [
    `Moved *${tastingName(tasting)}* to ${mrkdwn(formatWhen(at, timeZone, now))}.`,
    ...plan.coffees.map((coffee) => `• ${mrkdwn(coffee.said)}`),
  ];
  return { message: say(lines.join('\n')) };
}

async function cancel(deps: Deps, who: Who, tasting: Tasting): Promise<Answer> {
  await requireAllowed(deps.db, who, 'cancel tasting', tasting);
  const context = { workspace: who.workspace, now: deps.clock.now(), who: who.person };
  await inTransaction(deps.db, (trx) => cancelTasting(trx, context, tasting));
  return { message: say(`Cancelled *${tastingName(tasting)}*. What was set aside for it is free again.`) };
}

/** Day and time of a form, in the house's time zone; refused when past. */
export function readStart(day: string, time: string, zone: string, now: Date): Date {
  if (!isLocalDay(day)) throw new UserError('Which day is it?', null, 'day');
  if (!/^(?:[01]\d|2[0-3]):[0-5]\d$/.test(time))
    throw new UserError('At what time does it begin?', 'Like 14:00.', 'time');
  const [hours, minutes] = time.split(':').map(Number);
  const { at } = wallTime(day, (hours ?? 0) * 60 + (minutes ?? 0), zone);
  if (at <= now) throw new UserError('That day and time are past.', 'Choose a time to come.', 'day');
  return at;
}
