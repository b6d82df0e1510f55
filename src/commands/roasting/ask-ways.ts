import { z } from 'zod';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { may } from '../../domain/record/permission.js';
import { cupName, tastingName } from '../../domain/record/tasting.js';
import { restState } from '../../domain/roast/shelf.js';
import { formatWhen, localDay } from '../../domain/when/local-day.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { dropCups } from '../../store/ask-cups.js';
import { findAsk, updateAsk } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { updateTasting } from '../../store/tastings.js';
import { inTransaction } from '../../store/transaction.js';
import { moveTasting } from '../booking/change-booking.js';
import type { Answer, Deps } from '../common/bot.js';
import { Id, readValue, type Tap } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { isHidden } from '../common/table-view.js';
import { type AskContext, touchAsk, touchTable } from '../planning/ask-settle.js';
import { planRoasts } from '../planning/plan-roasts.js';
import { type TableNeed, tableNeed } from '../planning/plan-roasts-supply.js';
import { askContext } from './ask-change.js';
import { swapForNearest } from './ask-swap.js';

const WayValue = z.object({ tasting: Id, coffee: Id, ask: Id.nullable().default(null) });
const MoveValue = WayValue.extend({ at: z.iso.datetime() });
const SwapValue = WayValue.extend({ other: Id });

type Way = { readonly trx: DbOrTransaction; readonly context: AskContext; readonly table: TableNeed };

/** Moves the tasting to a date that fits; a day on offer that then fits is agreed with it. */
export async function moveTap(deps: Deps, tap: Tap): Promise<Answer> {
  const value = readValue(MoveValue, tap.value);
  return onTable(deps, tap, value.tasting, async ({ trx, context, table }) => {
    const at = new Date(value.at);
    const { tasting } = table.setting;
    if (at.getTime() <= context.now.getTime())
      throw new KindRefusal(
        'not now',
        'That date has passed.',
        `\`/spoon book ${tastingName(tasting)}\` moves it.`,
      );
    if (value.ask !== null) await agreeIfItFits(trx, context, value.ask, table, value.coffee, at);
    await moveTasting(trx, context, tasting, at);
    const when = formatWhen(at, context.house.timeZone, context.now);
    return { message: say(`Moved *${tastingName(tasting)}* to *${when}*. Its roasts follow.`) };
  });
}

async function agreeIfItFits(
  trx: DbOrTransaction,
  context: AskContext,
  askId: number,
  table: TableNeed,
  coffeeId: number,
  at: Date,
): Promise<void> {
  const ask = await findAsk(trx, context.workspace, askId);
  const rest = table.rests.get(coffeeId);
  const ours = ask?.wanted.some((entry) => entry.tastingId === table.setting.tasting.id);
  if (!ask || !rest || !ours || ask.state !== 'offered' || ask.offeredDay === null) return;
  const day = localDay(at, context.house.timeZone);
  if (restState({ roastedOn: ask.offeredDay, bestBy: null }, rest, day) !== 'good') return;
  // No planning between the two: on the old date the day on offer would not serve this table.
  const values = { state: 'accepted', roast_day: ask.offeredDay, offered_day: null, reason: '' } as const;
  const detail = { what: 'agree', day: ask.offeredDay };
  await updateAsk(trx, context.workspace, ask, values, { who: context.who, at: context.now, detail });
  await touchAsk(trx, context, ask.id);
}

/** Takes the cups off the table that cannot be made without the coffee. */
export async function dropTap(deps: Deps, tap: Tap): Promise<Answer> {
  const value = readValue(WayValue, tap.value);
  return onTable(deps, tap, value.tasting, async ({ trx, context, table }) => {
    const { tasting, cups } = table.setting;
    const name = tastingName(tasting);
    const without = cups.filter((cup) => cup.parts.some((part) => part.coffeeId === value.coffee));
    if (without.length === 0) return {};
    if (cups.length - without.length < 2)
      throw new KindRefusal(
        'too much',
        `Without that coffee fewer than two cups are left on ${name}.`,
        `Move it, or cancel it with \`/spoon book ${name} cancel\`.`,
      );
    const ids = without.map((cup) => cup.id);
    await dropCups(trx, context.workspace, ids, context.now);
    const change = { who: context.who, at: context.now, change: 'cups dropped', detail: { cups: ids } };
    await updateTasting(trx, { id: tasting.id, workspace: context.workspace }, {}, change);
    await planRoasts(trx, context, tasting.id);
    // A code beside the coffee that is missing would tell what was behind it.
    const seesCodes =
      !isHidden(table.setting) || may('see codes', standingOf(tap.who.person, context.house, { tasting }));
    const which = seesCodes ? mrkdwn(plainList(without.map(cupName))) : counted(without.length, 'cup');
    return { message: say(`Dropped from *${name}*: ${which}.`) };
  });
}

/** Puts the nearest coffee of the shelf in its place. */
export async function nearestTap(deps: Deps, tap: Tap): Promise<Answer> {
  const value = readValue(SwapValue, tap.value);
  return onTable(deps, tap, value.tasting, async ({ trx, context, table }) => {
    const names = await swapForNearest(trx, context, table, value.coffee, value.other);
    await planRoasts(trx, context, value.tasting);
    const name = tastingName(table.setting.tasting);
    return {
      message: say(
        `*${name}* uses *${mrkdwn(names.other)}* in the place of ${mrkdwn(names.missing)}. It is kept as a blend of its own, *${mrkdwn(names.recipe)}*: the recipe itself stays as it is.`,
      ),
    };
  });
}

/** Asks for the roast again, also for a day that was declined or given up. */
export async function againTap(deps: Deps, tap: Tap): Promise<Answer> {
  const value = readValue(WayValue, tap.value);
  return onTable(deps, tap, value.tasting, async ({ trx, context }) => {
    const plan = await planRoasts(trx, context, value.tasting, { coffeeId: value.coffee });
    const coffee = plan.coffees.find((entry) => entry.coffeeId === value.coffee);
    return { message: say(mrkdwn(coffee?.said ?? 'The table no longer needs that coffee.')) };
  });
}

/** The table behind a tap of its host or a steward, before it has begun. */
async function onTable(
  deps: Deps,
  tap: Tap,
  tastingId: number,
  run: (way: Way) => Promise<Answer>,
): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    const setting = await requireTable(trx, tap.who.workspace, tastingId);
    const context = await askContext(trx, deps, tap.who);
    const { tasting } = setting;
    requireMay('change table', standingOf(tap.who.person, context.house, { tasting }), tasting);
    if (tasting.state !== 'booked' && tasting.state !== 'ready')
      throw new KindRefusal('not now', `${tastingName(tasting)} has begun or is over.`);
    const answer = await run({ trx, context, table: tableNeed(setting, context.house) });
    await touchTable(trx, context, tastingId);
    return answer;
  });
}
