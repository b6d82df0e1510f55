import { formatWeight } from '../../domain/measure/weight.js';
import { coffeeName } from '../../domain/record/table-setting.js';
import { hasNotBegun, tastingName } from '../../domain/record/tasting.js';
import { chooseRoastDay } from '../../domain/roast/roast-day.js';
import type { CoffeeReadiness } from '../../domain/table/readiness.js';
import { formatWhen, localDay } from '../../domain/when/local-day.js';
import type { Notice } from '../../kit/notice.js';
import { findAsk, updateAsk } from '../../store/asks.js';
import { markChanged } from '../../store/changed.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { stoppedOf } from '../../store/notices.js';
import { listLost } from '../../store/tasting-records.js';
import { findTasting } from '../../store/tastings.js';
import type { Deps, DueReminder } from '../common/bot.js';
import { loadReadiness, loadTableNeed, type Roastery, type TableReadiness } from '../planning/load-plan.js';
import { type AskContext, changeAskAndPlan, NOBODY } from '../planning/plan-roasts.js';
import { type AskView, askersOf } from './ask-view-message.js';
import { hostNotices, receiptNotices } from './host-messages.js';
import { loadAskView, nearestOnShelf } from './load-ask.js';
import { roasterNotices } from './roaster-messages.js';
import {
  type LostCoffee,
  type Stuck,
  shortfallNotices,
  type Unheard,
  unheardKey,
  unheardNotices,
} from './stuck-messages.js';

/** What stands in Slack about "ask:7" (one ask) or "ask:tasting-4" (what a table lacks), from state alone. */
export async function noticesOfAsk(
  deps: Pick<Deps, 'db' | 'clock'>,
  workspace: string,
  subject: string,
): Promise<readonly Notice[]> {
  const [, table, id] = /^ask:(tasting-)?(\d+)$/u.exec(subject) ?? [];
  if (id === undefined) return [];
  if (table !== undefined) return shortfallOf(deps, workspace, Number(id));
  const view = await loadAskView(deps.db, workspace, Number(id), deps.clock.now());
  if (!view) return [];
  return [
    ...roasterNotices(view),
    ...hostNotices(view),
    ...receiptNotices(view),
    ...unheardNotices(view, await unheardOf(deps, workspace, view)),
  ];
}

/** Messages to the ask's roaster that Slack would not take. */
async function unheardOf(deps: Pick<Deps, 'db'>, workspace: string, view: AskView): Promise<Unheard> {
  const subject = `ask:${view.ask.id}`;
  const [asker = ''] = askersOf(view);
  const { stopped, told } = await stoppedOf(deps.db, workspace, subject, unheardKey(view.ask.id, asker));
  const toRoaster = stopped.filter(({ key }) => key === subject || /:(nudge|soon|report):/.test(key));
  return { errors: toRoaster.map(({ error }) => error ?? 'unknown'), told };
}

/** States whose ask tells the host itself, with the same ways out. */
const TOLD_BY_ASK: readonly CoffeeReadiness['state'][] = ['declined', 'missed'];

async function shortfallOf(
  deps: Pick<Deps, 'db' | 'clock'>,
  workspace: string,
  tastingId: number,
): Promise<readonly Notice[]> {
  const { db } = deps;
  const now = deps.clock.now();
  const tasting = await findTasting(db, workspace, tastingId);
  if (!tasting) return [];
  const house = await loadHouse(db, workspace);
  const roastery = { workspace, house };
  const table = await loadTableNeed(db, roastery, tasting);
  const readiness = await loadReadiness(db, workspace, tasting, now);
  const stuck: (Stuck & { readonly said: string })[] = [];
  for (const coffee of hasNotBegun(tasting) ? readiness.stuck : []) {
    const rest = table.rests.get(coffee.coffeeId);
    if (TOLD_BY_ASK.includes(coffee.state) || !rest) continue;
    const chosen = chooseRoastDay(now, tasting.startsAt, rest, house);
    const said = chosen.ok ? coffee.said : `${coffee.said} ${chosen.message}`;
    stuck.push({
      askId: coffee.ask?.id ?? null,
      tasting,
      coffee: { id: coffee.coffeeId, name: coffee.name },
      dates: readiness.nearest,
      nearest: await nearestOnShelf(db, roastery, table, coffee.coffeeId),
      zone: house.timeZone,
      canAskAgain: chosen.ok,
      said,
    });
  }
  const lost = await lostOf(db, roastery, tastingId, readiness);
  return shortfallNotices(tasting, formatWhen(tasting.startsAt, house.timeZone, now), stuck, lost);
}

async function lostOf(
  db: Db,
  { workspace, house }: Roastery,
  tastingId: number,
  readiness: TableReadiness,
): Promise<readonly LostCoffee[]> {
  const shown: LostCoffee[] = [];
  for (const lost of await listLost(db, workspace, tastingId)) {
    if (lost.mg === 0) continue;
    const coffee = readiness.coffees.find((entry) => entry.coffeeId === lost.coffeeId);
    const to = [];
    for (const id of lost.to) {
      const other = await findTasting(db, workspace, id);
      if (other) to.push(tastingName(other));
    }
    shown.push({
      id: lost.id,
      coffee: coffee?.name ?? coffeeName(new Map(), lost.coffeeId),
      grams: formatWeight(lost.mg, house.unitSystem),
      to,
      now: coffee?.said ?? 'This table no longer needs it.',
    });
  }
  return shown;
}

/**
 * A moment of an ask has come. Most are kept in its history, from which the notices follow; an ask that nobody
 * answered before its day lapses, and a roast that nobody reported counts as missed. Either way its tables
 * are planned anew, so that no lateness stays silent. Runs in the transaction that marks it as fired.
 */
export async function askReminderDue(deps: Deps, reminder: DueReminder): Promise<void> {
  const { workspace } = reminder;
  const ask = await findAsk(deps.db, workspace, Number(/^ask:(\d+)$/u.exec(reminder.subject)?.[1] ?? 0));
  if (!ask) return;
  const house = await loadHouse(deps.db, workspace);
  const context: AskContext = { workspace, now: deps.clock.now(), who: NOBODY, house };
  const past = ask.roastDay < localDay(context.now, house.timeZone);
  if (reminder.kind === 'ask lapsed' && past && (ask.state === 'asked' || ask.state === 'offered')) {
    await changeAskAndPlan(deps.db, context, ask, { kind: 'lapse' }, { what: 'lapsed' });
    return;
  }
  if (reminder.kind === 'ask given up' && past && ask.state === 'accepted') {
    await changeAskAndPlan(deps.db, context, ask, { kind: 'missed' });
    return;
  }
  const detail = { what: 'reminded', kind: reminder.kind, day: ask.roastDay };
  await updateAsk(deps.db, workspace, ask, {}, { who: NOBODY, at: context.now, detail });
  await markChanged(deps.db, workspace, reminder.subject, context.now);
}
