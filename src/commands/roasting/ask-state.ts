import type { HouseFacts } from '../../domain/house/house-facts.js';
import { formatWeight } from '../../domain/measure/weight.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { lossBp } from '../../domain/roast/loss.js';
import { oddBatches } from '../../domain/roast/loss-estimate.js';
import { localDay } from '../../domain/when/local-day.js';
import { type AskChanged, listAskChanges } from '../../store/ask-history.js';
import { findAsk, listAsks, type StoredAsk } from '../../store/asks.js';
import { findCoffee } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listRoastsAlone } from '../../store/roasts.js';
import { chargeFor, lossOf } from '../planning/ask-charge.js';
import { LIVE_ASKS, wantedMg } from '../planning/ask-settle.js';
import { loadAskTables } from './ask-tables.js';
import type { AskRoast, AskView } from './ask-view-message.js';

/** Everything the messages about one ask are made of, or null when this workspace has no such ask. */
export async function loadAskState(
  db: DbOrTransaction,
  workspace: string,
  askId: number,
  now: Date,
): Promise<AskView | null> {
  const ask = await findAsk(db, workspace, askId);
  const coffee = ask && (await findCoffee(db, workspace, ask.coffeeId));
  if (!ask || !coffee) return null;
  const house = await loadHouse(db, workspace);
  const changes = await listAskChanges(db, workspace, askId);
  const asked = changes.findLast(
    (change) => change.to === 'asked' && (change.from !== 'asked' || change.detail.what === 'replan'),
  );
  return {
    ask,
    askedBy: ask.createdBy,
    coffee,
    house,
    today: localDay(now, house.timeZone),
    askedOn: localDay(asked?.at ?? ask.createdAt, house.timeZone),
    tables: await loadAskTables(db, workspace, ask, changes, house, now),
    free: ask.free,
    loss: await lossOf(db, workspace, coffee, house),
    remarks: await remarksOn(db, workspace, ask, coffee, house),
    events: changes.map(toEvent),
    roast: await roastOf(db, workspace, ask, coffee, house),
  };
}

function toEvent(change: AskChanged): AskView['events'][number] {
  const { detail } = change;
  return {
    id: change.id,
    what: detail.what,
    who: change.who,
    to: change.to,
    day: detail.day ?? null,
    because: detail.because ?? null,
    greenMg: detail.greenMg ?? null,
    tasting: detail.tasting ?? null,
    free: detail.free ?? null,
    reminder: detail.kind ?? null,
  };
}

/** The charge's remarks while the charge is as the house would plan it, and what the green in store says. */
async function remarksOn(
  db: DbOrTransaction,
  workspace: string,
  ask: StoredAsk,
  coffee: Coffee,
  house: HouseFacts,
): Promise<readonly string[]> {
  const total = wantedMg(ask);
  if (total === 0 || !LIVE_ASKS.includes(ask.state)) return [];
  const charge = await chargeFor(db, workspace, coffee, house, total);
  const remarks = charge.greenMg === ask.greenMg ? charge.remarks : [];
  if (coffee.greenMg === null) return remarks;
  const live = await listAsks(db, workspace, LIVE_ASKS, coffee.id);
  const charged = live.reduce((sum, other) => sum + other.greenMg, 0);
  if (charged <= coffee.greenMg) return remarks;
  const store = formatWeight(coffee.greenMg, house.unitSystem);
  const short = formatWeight(charged - coffee.greenMg, house.unitSystem);
  return [
    ...remarks,
    `The shelf list counts only ${store} of green in store: ${short} short of all asks for it.`,
  ];
}

async function roastOf(
  db: DbOrTransaction,
  workspace: string,
  ask: StoredAsk,
  coffee: Coffee,
  house: HouseFacts,
): Promise<AskRoast | null> {
  if (ask.roastId === null) return null;
  const roasts = await listRoastsAlone(db, workspace, coffee.id);
  const index = roasts.findIndex((roast) => roast.id === ask.roastId);
  const roast = roasts[index];
  if (!roast) return null;
  const odd = oddBatches(roasts.slice(0, index + 1), coffee.lossBp ?? house.lossDefaultsBp[coffee.level]);
  return {
    ...roast,
    lossBp: lossBp(roast.greenMg, roast.roastedMg),
    oddFromBp: odd.find((batch) => batch.index === index)?.usualBp ?? null,
  };
}
