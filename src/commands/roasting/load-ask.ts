import { restDaysFor } from '../../domain/house/rest-window.js';
import { formatWeight } from '../../domain/measure/weight.js';
import { plannedLossBp } from '../../domain/production/roast-groups.js';
import { type Nearest, nearestCoffees } from '../../domain/production/stand-in.js';
import { type AskChanged, LIVE_ASKS, type StoredAsk, wantedBy, wantedMg } from '../../domain/record/ask.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { hasNotBegun } from '../../domain/record/tasting.js';
import { askCharge } from '../../domain/roast/charge.js';
import {
  type DrumLosses,
  drumOf,
  estimateLoss,
  lossBp,
  ODD_BP,
  roastsIn,
  usualLossBp,
} from '../../domain/roast/loss.js';
import { chooseRoastDay, nearestStarts, startsForRoast, withoutDays } from '../../domain/roast/roast-day.js';
import { freeOf, restState, servesTable } from '../../domain/roast/shelf.js';
import type { TableNeed } from '../../domain/table/coffee-needs.js';
import { localDay } from '../../domain/when/local-day.js';
import { findAsk, listAskChanges, listAsks, listRefusedDays } from '../../store/asks.js';
import { findCoffee, listCoffees } from '../../store/coffees.js';
import { coffeeProfiles } from '../../store/cups.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listRoastsAlone } from '../../store/roasts.js';
import { listLots, listReservations } from '../../store/shelf.js';
import { findTasting } from '../../store/tastings.js';
import { loadLosses, loadReadiness, loadTableNeed, type Roastery } from '../planning/load-plan.js';
import type { AskRoast, AskTable, AskView } from './ask-view-message.js';

/** The ask that is looked at, where and when. */
type Look = Roastery & {
  readonly db: Db;
  readonly now: Date;
  readonly ask: StoredAsk;
  readonly coffee: Coffee;
};

/** Everything the messages about one ask are made of, or null when this workspace has no such ask. */
export async function loadAskView(
  db: Db,
  workspace: string,
  askId: number,
  now: Date,
): Promise<AskView | null> {
  const ask = await findAsk(db, workspace, askId);
  const coffee = ask && (await findCoffee(db, workspace, ask.coffeeId));
  if (!ask || !coffee) return null;
  const house = await loadHouse(db, workspace);
  const look: Look = { db, workspace, house, now, ask, coffee };
  const changes = await listAskChanges(db, workspace, askId);
  const asked = changes.findLast(
    (change) => change.to === 'asked' && (change.from !== 'asked' || change.detail.what === 'replan'),
  );
  const losses = await loadLosses(db, look, coffee);
  const roast = await roastOf(look);
  const drum = roast?.drum ?? ask.drum;
  return {
    ask,
    coffee,
    house,
    today: localDay(now, house.timeZone),
    askedOn: localDay(asked?.at ?? ask.createdAt, house.timeZone),
    tables: await loadAskTables(look, changes),
    loss: losses.get(drum ?? '') ?? estimateLoss([], plannedLossBp(coffee, house)),
    lossDrum: drum,
    remarks: await remarksOn(look, losses),
    events: changes,
    roast,
  };
}

/** The charge's remarks while the charge is as the house would plan it, and what the green in store says. */
async function remarksOn(
  { db, workspace, house, ask, coffee }: Look,
  losses: DrumLosses,
): Promise<readonly string[]> {
  const total = wantedMg(ask);
  if (total === 0 || !LIVE_ASKS.includes(ask.state)) return [];
  const charge = askCharge(total, losses, house);
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

async function roastOf({ db, workspace, house, ask, coffee }: Look): Promise<AskRoast | null> {
  if (ask.roastId === null) return null;
  const roasts = await listRoastsAlone(db, workspace, coffee.id);
  const at = roasts.findIndex((roast) => roast.id === ask.roastId);
  const roast = roasts[at];
  if (!roast) return null;
  const before = roastsIn(roasts.slice(0, at), [drumOf(roast, house.drums)], house.drums);
  const usualBp = usualLossBp(before, plannedLossBp(coffee, house));
  const lost = lossBp(roast.greenMg, roast.roastedMg);
  return { ...roast, lossBp: lost, oddFromBp: Math.abs(lost - usualBp) > ODD_BP ? usualBp : null };
}

/** The tables behind an ask, those it was for and is no longer among them (with nothing wanted). */
async function loadAskTables(look: Look, changes: readonly AskChanged[]): Promise<readonly AskTable[]> {
  const wanted = look.ask.wanted.map((entry) => entry.tastingId);
  const ids = new Set([...wanted, ...changes.flatMap((change) => change.detail.tasting ?? [])]);
  const tables: AskTable[] = [];
  for (const id of [...ids].sort((a, b) => a - b)) {
    const table = await askTable(look, id);
    if (table) tables.push(table);
  }
  return tables;
}

async function askTable(look: Look, tastingId: number): Promise<AskTable | null> {
  const { db, workspace, house, now, ask } = look;
  const tasting = await findTasting(db, workspace, tastingId);
  if (!tasting) return null;
  const table = await loadTableNeed(db, look, tasting);
  const rest = table.rests.get(ask.coffeeId) ?? null;
  const ahead = hasNotBegun(tasting);
  const offerFits =
    ask.offeredDay === null || !rest ? null : servesTable(ask.offeredDay, rest, table.tableDay);
  const shown = {
    tasting,
    recipe: table.setting.recipe.name,
    mg: wantedBy(ask, tastingId),
    offerFits,
  };
  const troubled = offerFits === false || ['declined', 'missed', 'withdrawn'].includes(ask.state);
  if (!ahead || !rest || !troubled)
    return { ...shown, dates: [], nearest: null, canAskAgain: false, served: !ahead };
  const refused = (await listRefusedDays(db, workspace, ask.coffeeId)).get(tastingId) ?? [];
  const dates =
    ask.state === 'offered' && ask.offeredDay !== null
      ? startsForRoast(ask.offeredDay, tasting.startsAt, rest, house, now)
      : nearestStarts(now, tasting.startsAt, [rest], withoutDays(house, refused));
  const readiness = await loadReadiness(db, workspace, tasting, now);
  return {
    ...shown,
    dates,
    nearest: await nearestOnShelf(db, look, table, ask.coffeeId),
    canAskAgain: chooseRoastDay(now, tasting.startsAt, rest, house).ok,
    served: !readiness.stuck.some((coffee) => coffee.coffeeId === ask.coffeeId),
  };
}

/**
 * The coffee on the shelf nearest to one that a table lacks, by what tasters named in both and by role, with
 * enough grams for what the cups take; null when none is. Coffees already on the table are no stand-in.
 */
export async function nearestOnShelf(
  db: Db,
  { workspace, house }: Roastery,
  table: TableNeed,
  coffeeId: number,
): Promise<Nearest | null> {
  const missing = await findCoffee(db, workspace, coffeeId);
  const need = table.needs.find((entry) => entry.coffeeId === coffeeId);
  if (!missing || !need) return null;
  // A coffee of the blend whose cups were dropped is no stand-in for another: no blend holds one twice.
  const onTable = new Set([...table.needs, ...table.setting.recipe.parts].map((entry) => entry.coffeeId));
  const profiles = await coffeeProfiles(db, workspace);
  const profileOf = (coffee: Coffee) => profiles.get(coffee.id) ?? new Map<string, number>();
  const lots = await listLots(db, workspace);
  const held = await listReservations(db, workspace);
  const use = table.setting.tasting.format;
  const candidates = (await listCoffees(db, workspace)).flatMap((coffee) => {
    if (onTable.has(coffee.id)) return [];
    const rest = restDaysFor({ ...coffee, coffeeId: coffee.id, use }, house.restWindows);
    const good = lots.filter(
      (lot) => lot.coffeeId === coffee.id && restState(lot, rest, table.tableDay) === 'good',
    );
    const freeMg = good.reduce((sum, lot) => sum + freeOf(lot, held), 0);
    const availableMg = freeMg >= need.tableMg + need.purgeMg ? freeMg : 0;
    return [{ coffee, profile: profileOf(coffee), availableMg }];
  });
  return nearestCoffees({ coffee: missing, profile: profileOf(missing) }, candidates)[0] ?? null;
}
