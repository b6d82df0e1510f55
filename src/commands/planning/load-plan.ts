import type { HouseFacts } from '../../domain/house/house-facts.js';
import { roastsOfGroup } from '../../domain/production/joined-ratio.js';
import { joinedLossBp, plannedLossBp } from '../../domain/production/roast-groups.js';
import { type Ask, LIVE_ASKS } from '../../domain/record/ask.js';
import type { Coffee, Lot } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { NOT_BEGUN, type Tasting } from '../../domain/record/tasting.js';
import {
  countingRoasts,
  type DrumLosses,
  drumLosses,
  estimateLoss,
  type LossEstimate,
  productionRoasts,
} from '../../domain/roast/loss.js';
import { heldByCoffee, type PlanState } from '../../domain/roast/plan-roasts.js';
import { type FittingStart, nearestStarts, withoutDays } from '../../domain/roast/roast-day.js';
import { freeOf, type RoastedFor } from '../../domain/roast/shelf.js';
import { type TableNeed, tableNeed } from '../../domain/table/coffee-needs.js';
import { type CoffeeReadiness, coffeesAtTable } from '../../domain/table/readiness.js';
import { findAsk, listAsks, listAsksFor, listLotsOfAsks, listRefusedDays } from '../../store/asks.js';
import { findCoffee } from '../../store/coffees.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listRecipeVersions } from '../../store/recipes.js';
import { type GroupRoast, listGroupRoasts, listRoastsAlone } from '../../store/roasts.js';
import { bookedAt, listHeld, listLots, listReservationsOf } from '../../store/shelf.js';
import { listLost } from '../../store/tasting-records.js';
import { listTastings } from '../../store/tastings.js';
import { loadTable } from '../common/load-table.js';

/** A workspace and the facts of its house. */
export type Roastery = { readonly workspace: string; readonly house: HouseFacts };

/** Everything that a plan of the roasts is made from, as it is now. */
export async function loadPlanState(
  db: Db,
  roastery: Roastery & { readonly now: Date },
  again: PlanState['again'],
): Promise<PlanState> {
  const { workspace, house, now } = roastery;
  const tastings = await listTastings(db, workspace, NOT_BEGUN);
  const tables: TableNeed[] = [];
  const lost = new Map<number, ReadonlyMap<number, number>>();
  const asks = new Map<number, Ask>();
  for (const ask of await listAsks(db, workspace, LIVE_ASKS)) asks.set(ask.id, ask);
  for (const tasting of [...tastings].sort((a, b) => a.id - b.id)) {
    tables.push(await loadTableNeed(db, roastery, tasting));
    const told = await listLost(db, workspace, tasting.id);
    lost.set(tasting.id, new Map(told.map(({ coffeeId, mg }) => [coffeeId, mg])));
    for (const ask of await listAsksFor(db, workspace, tasting.id)) asks.set(ask.id, ask);
  }
  const coffees = new Map(tables.flatMap((table) => [...table.setting.coffees]));
  for (const ask of asks.values()) {
    const coffee = coffees.has(ask.coffeeId) ? null : await findCoffee(db, workspace, ask.coffeeId);
    if (coffee) coffees.set(coffee.id, coffee);
  }
  const losses = new Map<number, DrumLosses>();
  const refused = new Map<number, ReadonlyMap<number, ReadonlySet<string>>>();
  for (const coffee of coffees.values()) {
    losses.set(coffee.id, await loadLosses(db, roastery, coffee));
    refused.set(coffee.id, await listRefusedDays(db, workspace, coffee.id));
  }
  return {
    ...{ now, house, tables, asks: [...asks.values()], refused, losses, lost, again },
    bookedAt: await bookedAt(db, workspace),
    lots: await freeLots(db, workspace),
    roastedFor: await roastedFor(db, workspace),
  };
}

/** What one table needs of each coffee. */
export async function loadTableNeed(db: Db, roastery: Roastery, tasting: Tasting): Promise<TableNeed> {
  return tableNeed(await loadTable(db, roastery.workspace, tasting), roastery.house);
}

/** Lots without what tables hold that are already set: those keep theirs until they close. */
async function freeLots(db: Db, workspace: string): Promise<readonly Lot[]> {
  const held = (await listHeld(db, workspace)).filter(
    (row) => row.state === 'open' || row.state === 'closed' || row.state === 'decided',
  );
  return (await listLots(db, workspace)).map((lot) => ({ ...lot, mg: freeOf(lot, held) }));
}

async function roastedFor(db: Db, workspace: string): Promise<ReadonlyMap<number, RoastedFor>> {
  const sources = new Map<number, RoastedFor>();
  for (const [lotId, askId] of await listLotsOfAsks(db, workspace)) {
    const ask = await findAsk(db, workspace, askId);
    if (!ask) continue;
    sources.set(lotId, {
      tables: new Map(ask.wanted.map((entry) => [entry.tastingId, entry.mg])),
      people: new Map(ask.free.map((entry) => [entry.person, entry.mg])),
    });
  }
  return sources;
}

/** Where the coffees of a table stand, and when it could have them all if it will not. */
export type TableReadiness = {
  readonly coffees: readonly CoffeeReadiness[];
  /** Coffees for which nothing is under way. */
  readonly stuck: readonly CoffeeReadiness[];
  /** Starts at which every stuck coffee could be there; empty when none is stuck. */
  readonly nearest: readonly FittingStart[];
};

/** Asks that will not bring anything by themselves. */
const STUCK: readonly CoffeeReadiness['state'][] = ['missing', 'declined', 'missed', 'withdrawn', 'roasted'];

/** Where every coffee of a tasting stands, as the shelf and the asks are now. */
export async function loadReadiness(
  db: Db,
  workspace: string,
  tasting: Tasting,
  now: Date,
): Promise<TableReadiness> {
  const house = await loadHouse(db, workspace);
  const table = await loadTableNeed(db, { workspace, house }, tasting);
  const reserved = await listReservationsOf(db, tasting.id);
  const held = heldByCoffee(reserved, await listLots(db, workspace), tasting.id);
  const coffees = coffeesAtTable(table, held, await listAsksFor(db, workspace, tasting.id));
  const stuck = coffees.filter((coffee) => STUCK.includes(coffee.state));
  const refused = new Set<string>();
  for (const { coffeeId } of stuck) {
    const days = (await listRefusedDays(db, workspace, coffeeId)).get(tasting.id);
    for (const day of days ?? []) refused.add(day);
  }
  const rests = stuck.flatMap(({ coffeeId }) => table.rests.get(coffeeId) ?? []);
  return {
    coffees,
    stuck,
    nearest:
      stuck.length === 0 ? [] : nearestStarts(now, tasting.startsAt, rests, withoutDays(house, refused)),
  };
}

/** The loss a roast group is planned with while it was never roasted: as the recipe says, else its coffees' joined. */
export function defaultGroupLossBp(
  recipe: Recipe,
  group: string,
  coffees: ReadonlyMap<number, Coffee>,
  house: HouseFacts,
): number {
  const members = recipe.parts.flatMap((part) => {
    const coffee = part.roastGroup === group ? coffees.get(part.coffeeId) : undefined;
    return coffee ? [{ parts: part.parts, loss: plannedLossBp(coffee, house) }] : [];
  });
  if (members.length === 0) return house.lossDefaultsBp.medium;
  const joined = joinedLossBp(
    members.map((member) => member.parts),
    members.map((member) => member.loss),
  );
  return recipe.groupLossBp.get(group) ?? joined;
}

/** The loss to plan a coffee's next roast with, by drum: its own roasts there, else its own figure, else the house's. */
export async function loadLosses(
  db: Db,
  { workspace, house }: Roastery,
  coffee: Coffee,
): Promise<DrumLosses> {
  const roasts = await listRoastsAlone(db, workspace, coffee.id);
  return drumLosses(roasts, plannedLossBp(coffee, house), house.drums);
}

/** The roasts that speak for each of a recipe's groups, oldest first. */
export async function loadGroupRoasts(
  db: Db,
  workspace: string,
  recipe: Recipe,
): Promise<ReadonlyMap<string, readonly GroupRoast[]>> {
  const versions = await listRecipeVersions(db, workspace, recipe.id);
  const roasts = await listGroupRoasts(db, workspace, recipe.id);
  const groups = new Set(recipe.parts.flatMap((part) => part.roastGroup ?? []));
  return new Map(
    [...groups].map((group) => {
      const own = roasts.filter((roast) => roast.group === group);
      return [group, roastsOfGroup(own, group, recipe, versions)];
    }),
  );
}

/** The loss to plan a coffee with inside a batch for sale: what the production drums have shown. */
export async function loadProductionLoss(
  db: Db,
  workspace: string,
  coffee: Coffee,
  house: HouseFacts,
): Promise<LossEstimate> {
  const roasts = productionRoasts(await listRoastsAlone(db, workspace, coffee.id), house.drums);
  const fallback = plannedLossBp(coffee, house);
  return estimateLoss(countingRoasts(roasts, fallback), fallback);
}
