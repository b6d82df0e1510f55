import { formatWeight } from '../../domain/measure/weight.js';
import { coffeeName } from '../../domain/record/table-setting.js';
import { tastingName } from '../../domain/record/tasting.js';
import { chooseRoastDay } from '../../domain/roast/roast-day.js';
import { formatWhen } from '../../domain/when/local-day.js';
import type { Notice } from '../../kit/notice.js';
import { loadHouse } from '../../store/house.js';
import { stoppedOf } from '../../store/notices.js';
import { listLost } from '../../store/reservations.js';
import { findTasting } from '../../store/tastings.js';
import type { Deps } from '../common/bot.js';
import { loadTable } from '../common/load-table.js';
import { type CoffeeReadiness, readinessOf, type TableReadiness } from '../planning/plan-roasts-ready.js';
import { tableNeed } from '../planning/plan-roasts-supply.js';
import { askNotices } from './ask-message.js';
import { nearestOnShelf } from './ask-nearest.js';
import { type LostCoffee, type Shortfall, shortfallNotices } from './ask-shortfall-message.js';
import { loadAskState } from './ask-state.js';
import { type Unheard, unheardKey, unheardNotices } from './ask-unheard-message.js';
import type { AskView } from './ask-view-message.js';
import { askersOf } from './ask-words-message.js';

/** What stands in Slack about "ask:7" (one ask) or "ask:tasting-4" (what a table lacks), from state alone. */
export async function noticesOfAsk(
  deps: Pick<Deps, 'db' | 'clock'>,
  workspace: string,
  subject: string,
): Promise<readonly Notice[]> {
  const [, table, id] = /^ask:(tasting-)?(\d+)$/u.exec(subject) ?? [];
  if (id === undefined) return [];
  if (table !== undefined) return shortfallOf(deps, workspace, Number(id));
  const view = await loadAskState(deps.db, workspace, Number(id), deps.clock.now());
  if (!view) return [];
  return [...askNotices(view), ...unheardNotices(view, await unheardOf(deps, workspace, view))];
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
  const table = tableNeed(await loadTable(db, workspace, tasting), house);
  const ahead = tasting.state === 'booked' || tasting.state === 'ready';
  const readiness = await readinessOf(db, workspace, tasting, now);
  const stuck: Shortfall['stuck'][number][] = [];
  for (const coffee of ahead ? readiness.stuck : []) {
    const rest = table.rests.get(coffee.coffeeId);
    if (TOLD_BY_ASK.includes(coffee.state) || !rest) continue;
    const chosen = chooseRoastDay(now, tasting.startsAt, rest, house);
    const said = chosen.ok ? coffee.said : `${coffee.said} ${chosen.message}`;
    const way = {
      askId: coffee.ask?.id ?? null,
      tastingId,
      tableName: tastingName(tasting),
      coffeeId: coffee.coffeeId,
      coffeeName: coffee.name,
      dates: readiness.nearest,
      nearest: await nearestOnShelf(db, workspace, table, coffee.coffeeId, house),
      zone: house.timeZone,
      canAskAgain: chosen.ok,
    };
    stuck.push({ way, said });
  }
  return shortfallNotices({
    tastingId,
    tableName: tastingName(tasting),
    host: tasting.host,
    when: formatWhen(tasting.startsAt, house.timeZone, now),
    stuck,
    lost: await lostOf(deps, workspace, tastingId, readiness, house.unitSystem),
  });
}

async function lostOf(
  deps: Pick<Deps, 'db'>,
  workspace: string,
  tastingId: number,
  readiness: TableReadiness,
  unitSystem: 'metric' | 'pounds',
): Promise<readonly LostCoffee[]> {
  const shown: LostCoffee[] = [];
  for (const lost of await listLost(deps.db, workspace, tastingId)) {
    if (lost.mg === 0) continue;
    const coffee = readiness.coffees.find((entry) => entry.coffeeId === lost.coffeeId);
    const to = [];
    for (const id of lost.to) {
      const other = await findTasting(deps.db, workspace, id);
      if (other) to.push(tastingName(other));
    }
    shown.push({
      id: lost.id,
      coffee: coffee?.name ?? coffeeName(new Map(), lost.coffeeId),
      grams: formatWeight(lost.mg, unitSystem),
      to,
      now: coffee?.said ?? 'This table no longer needs it.',
    });
  }
  return shown;
}
