import type { ModalView } from '@slack/types';
import { formatWeight, parseWeightField } from '../../domain/measure/weight.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { askCharge } from '../../domain/roast/charge.js';
import { newAsk } from '../../domain/roast/roast-ask.js';
import { comingRoastDays } from '../../domain/roast/roast-day.js';
import { daysBetween, formatDay, isLocalDay, type LocalDay, localDay } from '../../domain/when/local-day.js';
import { say, section } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { form, selectInput, textInput } from '../../kit/form.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { listAsks } from '../../store/asks.js';
import { findCoffee, listCoffees } from '../../store/coffees.js';
import { type Db, inTransaction } from '../../store/db.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, Id, readValue, type Submission, type Tap, type Who, written } from '../common/intake.js';
import { loadLosses } from '../planning/load-plan.js';
import { type AskContext, askContext, storeAskChange, storeAsks } from '../planning/plan-roasts.js';

/** Roast days a form offers. */
const DAYS_AHEAD = 12;

/** Opens the form with what was already said. */
export async function openAskForm(deps: Deps, who: Who, start: AskStart = {}): Promise<Answer> {
  const context = await askContext(deps.db, deps, who);
  const coffees = await listCoffees(deps.db, who.workspace);
  if (coffees.length === 0)
    throw new UserError('There is no coffee on the list yet.', 'Add one: `/spoon shelf add`');
  const days = comingRoastDays(context.now, context.house, DAYS_AHEAD);
  if (days.length === 0)
    throw new UserError('No roast day lies ahead.', 'Look at the roast days with `/spoon house`');
  const day = start.day ?? usualDay(context, days);
  return { form: newAskForm(coffees, days, { ...start, day }) };
}

/** Asks the roaster for a coffee, from its card on the shelf. */
export async function coffeeAskTap(deps: Deps, tap: Tap): Promise<Answer> {
  return openAskForm(deps, tap.who, { coffeeId: readValue(Id, tap.value) });
}

export async function newAskSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  return inTransaction(deps.db, async (trx) => {
    const context = await askContext(trx, deps, who);
    const coffee = await findCoffee(trx, who.workspace, Number(chosen(form, 'coffee')[0] ?? 0));
    if (!coffee) return { errors: { coffee: 'Which coffee?' } };
    const weight = parseWeightField(written(form, 'grams'), context.house.unitSystem);
    if (!weight.ok) return { errors: { grams: weight.message } };
    const day = chosen(form, 'day')[0] ?? '';
    const days = comingRoastDays(context.now, context.house, DAYS_AHEAD);
    if (!isLocalDay(day) || !days.includes(day))
      return { errors: { day: 'That roast day can no longer be joined. Pick a later one.' } };
    return { message: await askWithoutTable(trx, context, coffee, weight.mg, day) };
  });
}

/** The latest roast day up to a wished day; without a wish the first that gives the usual notice. */
export function roastDayBy(context: AskContext, by: LocalDay | null): LocalDay {
  const days = comingRoastDays(context.now, context.house, DAYS_AHEAD);
  const day = by === null ? usualDay(context, days) : (days.findLast((one) => one <= by) ?? null);
  if (day !== null) return day;
  const next = days[0] === undefined ? '' : ` The next one is ${formatDay(days[0])}.`;
  const until = by === null ? '' : ` up to ${formatDay(by)}`;
  throw new UserError(`No roast day${until} can still be joined.${next}`, 'Type `/spoon ask` to pick a day.');
}

/** Asks for grams of a coffee alone that no table stands behind; joins the charge of that day if there is one. */
export async function askWithoutTable(
  trx: Db,
  context: AskContext,
  coffee: Coffee,
  mg: number,
  day: LocalDay,
): Promise<Message> {
  const { workspace, who, now: at, house } = context;
  const roaster = house.roasterPerson ?? who;
  const live = await listAsks(trx, workspace, ['asked', 'accepted'], coffee.id);
  const joined = live.find((ask) => ask.roastDay === day && ask.roaster === roaster);
  const losses = await loadLosses(trx, context, coffee);
  const charge = (wantedMg: number) => askCharge(wantedMg, losses, house);
  const notice = daysBetween(localDay(at, house.timeZone), day);
  const favour = notice < house.noticeDays;
  if (joined) {
    const before = joined.free.find((entry) => entry.person === who)?.mg ?? 0;
    const own = { person: who, mg: before + mg };
    const free = [...joined.free.filter((entry) => entry.person !== who), own];
    const change = { kind: 'wishes', wanted: joined.wanted, free, charge } as const;
    await storeAskChange(trx, context, joined, change, { what: 'joined', free: own });
  } else {
    const own = { person: who, mg };
    const asked = { id: 0, coffeeId: coffee.id, roaster, favour, reason: '', day, free: [own] };
    const said = [{ what: 'asked', day, free: own }];
    await storeAsks(trx, context, [{ before: null, after: newAsk(asked, charge(mg)), said }]);
  }
  const grams = formatWeight(mg, house.unitSystem);
  const short = favour ? ` That is shorter than the usual ${house.noticeDays} days: a favour.` : '';
  const how = joined ? 'in one charge with what was asked before' : 'alone';
  const whom =
    house.roasterPerson === null
      ? 'The house has named no roaster, so the ask comes to you: `/spoon house roaster @name` names one.'
      : `<@${roaster}> is asked.`;
  return say(`${whom} *${grams} of ${mrkdwn(coffee.name)}*, roasted ${how} on *${formatDay(day)}*.${short}`);
}

function usualDay(context: AskContext, days: readonly LocalDay[]): LocalDay | null {
  const today = localDay(context.now, context.house.timeZone);
  const usual = days.find((day) => daysBetween(today, day) >= context.house.noticeDays);
  return usual ?? days.at(-1) ?? null;
}

/** What was understood of a typed ask, to start its form from. */
type AskStart = {
  readonly coffeeId?: number | null;
  readonly grams?: string;
  readonly day?: LocalDay | null;
  /** Why the form opened although words were typed. */
  readonly said?: string | null;
};

/** Asks for one coffee alone, without a table. */
function newAskForm(
  coffees: readonly Pick<Coffee, 'id' | 'name'>[],
  days: readonly LocalDay[],
  start: AskStart,
): ModalView {
  return form('ask.new', 'Ask for a roast', 'Ask', [
    ...(start.said ? [section(mrkdwn(start.said))] : []),
    selectInput(
      'coffee',
      'Which coffee, alone',
      coffees.map((coffee) => ({ label: plain(coffee.name), value: String(coffee.id) })),
      { initial: String(start.coffeeId) },
    ),
    textInput('grams', 'How much, roasted', { limit: 20, placeholder: '400 g', initial: start.grams }),
    selectInput(
      'day',
      'Roast day',
      days.map((day) => ({ label: formatDay(day), value: day })),
      { initial: start.day },
    ),
  ]);
}
