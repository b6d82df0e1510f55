import { z } from 'zod';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { LIVE_ASKS, type StoredAsk } from '../../domain/record/ask.js';
import { may } from '../../domain/record/permission.js';
import { coffeeName } from '../../domain/record/table-setting.js';
import { cupName, hasNotBegun, tastingName } from '../../domain/record/tasting.js';
import { askCharge } from '../../domain/roast/charge.js';
import { servesTable } from '../../domain/roast/shelf.js';
import { type TableNeed, tableNeed } from '../../domain/table/coffee-needs.js';
import { formatWhen, localDay } from '../../domain/when/local-day.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn, shorten } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { findAsk } from '../../store/asks.js';
import { findCoffee } from '../../store/coffees.js';
import { dropCups, swapCoffee } from '../../store/cups.js';
import { type Db, inTransaction } from '../../store/db.js';
import { findRecipe, insertRecipe, listRecipes } from '../../store/recipes.js';
import { findTasting, updateTasting } from '../../store/tastings.js';
import { moveTasting } from '../booking/change-booking.js';
import type { Answer, Deps } from '../common/bot.js';
import { Id, readValue, type Tap } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { isHidden } from '../common/table-view.js';
import { loadLosses } from '../planning/load-plan.js';
import {
  type AskContext,
  askContext,
  changeAskAndPlan,
  markTable,
  planTableRoasts,
  replanRoasts,
  storeAskChange,
} from '../planning/plan-roasts.js';
import { type OpenAsk, onAsk } from './ask-context.js';
import { nearestOnShelf } from './load-ask.js';

const AgreeValue = z.object({ day: z.string().nullable().default(null) });

/** A host agrees to the day on offer. Tables that it does not fit are planned anew. */
export async function agreeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { day } = readValue(AgreeValue, tap.value);
  return onAsk(deps, tap.who, tap.value, async ({ trx, context, ask }) => {
    await requireAsker(trx, context, ask);
    if (ask.state === 'offered' && day !== null && day !== ask.offeredDay)
      throw new UserError('Another day is on offer by now.', 'Look at the newer message.');
    await changeAskAndPlan(trx, context, ask, { kind: 'agree' });
    return {};
  });
}

/**
 * Whoever stands behind an ask takes their part off it, a steward all of it; when nobody is left it is
 * withdrawn. The same day is not asked for again by itself.
 */
export async function withdrawTap(deps: Deps, tap: Tap): Promise<Answer> {
  return onAsk(deps, tap.who, tap.value, async (open) => {
    const { trx, context, ask } = open;
    const parts = await requireAsker(trx, context, ask);
    if (!LIVE_ASKS.includes(ask.state)) {
      await storeAskChange(trx, context, ask, { kind: 'withdraw' });
      return {};
    }
    await takeOff(open, parts.wanted.length + parts.free.length > 0 ? parts : ask);
    await replanRoasts(trx, context);
    return { message: say('Withdrawn. The roaster’s message says so too.') };
  });
}

/** What the person wants of an ask; only those who stand behind it, or a steward, handle what the roaster answered. */
async function requireAsker(db: Db, context: AskContext, ask: StoredAsk): Promise<AskParts> {
  const wanted: AskParts['wanted'][number][] = [];
  for (const part of ask.wanted) {
    const tasting = await findTasting(db, context.workspace, part.tastingId);
    if (tasting?.host === context.who) wanted.push(part);
  }
  const free = ask.free.filter((part) => part.person === context.who);
  const host = wanted.length > 0 || free.length > 0;
  requireMay('handle offer', { ...standingOf(context.who, context.house, {}), host });
  return { wanted, free };
}

type AskParts = Pick<StoredAsk, 'wanted' | 'free'>;

async function takeOff({ trx, context, ask, coffee }: OpenAsk, leaving: AskParts): Promise<void> {
  const losses = await loadLosses(trx, context, coffee);
  const wanted = ask.wanted.filter((part) => !leaving.wanted.includes(part));
  const free = ask.free.filter((part) => !leaving.free.includes(part));
  const charge = (mg: number) => askCharge(mg, losses, context.house);
  const also = [
    ...leaving.wanted.map(({ tastingId: tasting }) => ({ what: 'left', tasting, day: ask.roastDay })),
    ...leaving.free.map(({ person }) => ({ what: 'free grams', free: { person, mg: 0 } })),
  ];
  const detail = { what: 'withdraw' };
  await storeAskChange(trx, context, ask, { kind: 'wishes', wanted, free, charge }, detail, also);
}

const WayValue = z.object({ tasting: Id, coffee: Id, ask: Id.nullable().default(null) });
const MoveValue = WayValue.extend({ at: z.iso.datetime() });
const SwapValue = WayValue.extend({ other: Id });

type Way = { readonly trx: Db; readonly context: AskContext; readonly table: TableNeed };

/** Moves the tasting to a date that fits; a day on offer that then fits is agreed with it. */
export async function moveTap(deps: Deps, tap: Tap): Promise<Answer> {
  const value = readValue(MoveValue, tap.value);
  return onTable(deps, tap, value.tasting, async ({ trx, context, table }) => {
    const at = new Date(value.at);
    const { tasting } = table.setting;
    if (at.getTime() <= context.now.getTime())
      throw new UserError('That date has passed.', `\`/spoon book ${tastingName(tasting)}\` moves it.`);
    if (value.ask !== null) await agreeIfItFits(trx, context, value.ask, table, value.coffee, at);
    await moveTasting(trx, context, tasting, at);
    const when = formatWhen(at, context.house.timeZone, context.now);
    return { message: say(`Moved *${tastingName(tasting)}* to *${when}*. Its roasts follow.`) };
  });
}

async function agreeIfItFits(
  trx: Db,
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
  // No planning between the two: on the old date the day on offer would not serve this table.
  if (servesTable(ask.offeredDay, rest, localDay(at, context.house.timeZone)))
    await storeAskChange(trx, context, ask, { kind: 'agree' });
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
      throw new UserError(
        `Without that coffee fewer than two cups are left on ${name}.`,
        `Move it, or cancel it with \`/spoon book ${name} cancel\`.`,
      );
    const ids = without.map((cup) => cup.id);
    await dropCups(trx, context.workspace, ids, context.now);
    const change = { who: context.who, at: context.now, change: 'cups dropped', detail: { cups: ids } };
    await updateTasting(trx, { id: tasting.id, workspace: context.workspace }, {}, change);
    await planTableRoasts(trx, context, tasting.id);
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
    await planTableRoasts(trx, context, value.tasting);
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
    const plan = await planTableRoasts(trx, context, value.tasting, { coffeeId: value.coffee });
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
    if (!hasNotBegun(tasting)) throw new UserError(`${tastingName(tasting)} has begun or is over.`);
    const answer = await run({ trx, context, table: tableNeed(setting, context.house) });
    await markTable(trx, context, tastingId);
    return answer;
  });
}

const NAME_LIMIT = 80;

/**
 * Puts a coffee of the shelf in the place of one that will not be there. What is then tasted is another
 * blend, so it becomes a recipe of its own: the real one keeps its parts and its history.
 */
async function swapForNearest(
  trx: Db,
  context: AskContext,
  table: TableNeed,
  coffeeId: number,
  otherId: number,
): Promise<{ readonly missing: string; readonly other: string; readonly recipe: string }> {
  const { workspace, now, who } = context;
  const { tasting, recipe, coffees } = table.setting;
  const other = await findCoffee(trx, workspace, otherId);
  const nearest = await nearestOnShelf(trx, context, table, coffeeId);
  if (!other || nearest?.coffeeId !== otherId)
    throw new UserError('That coffee is not free on the shelf any more.', 'Look with `/spoon shelf`');
  const missing = coffeeName(coffees, coffeeId);
  const name = await freeName(trx, workspace, `${recipe.name}, ${other.name} for ${missing}`);
  const recipeId = await insertRecipe(trx, {
    workspace,
    name,
    parts: recipe.parts.map((part) =>
      part.coffeeId === coffeeId ? { ...part, coffeeId: otherId, roastGroup: null } : part,
    ),
    groupLossBp: new Map(),
    why: `${other.name} stands in for ${missing}.`,
    tastingId: tasting.id,
    who,
    at: now,
  });
  const standIn = await findRecipe(trx, workspace, recipeId);
  if (!standIn) throw new Error(`recipe ${recipeId} was not kept`);
  await swapCoffee(trx, workspace, tasting.id, coffeeId, otherId);
  const detail = { from: coffeeId, to: otherId };
  await updateTasting(
    trx,
    { id: tasting.id, workspace },
    { recipe_version_id: standIn.versionId },
    { who, at: now, change: 'coffee swapped', detail },
  );
  return { missing, other: other.name, recipe: name };
}

async function freeName(trx: Db, workspace: string, wanted: string): Promise<string> {
  const taken = new Set((await listRecipes(trx, workspace)).map((recipe) => recipe.name.toLowerCase()));
  for (let count = 1; ; count += 1) {
    const ending = count === 1 ? '' : ` (${count})`;
    const name = `${shorten(wanted, NAME_LIMIT - ending.length)}${ending}`;
    if (!taken.has(name.toLowerCase())) return name;
  }
}
