import type { HouseFacts } from '../../domain/house/house-facts.js';
import { type RestDays, restDaysFor } from '../../domain/house/rest-window.js';
import type { Lot } from '../../domain/record/coffee.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import type { ShelfPlan } from '../../domain/roast/shelf.js';
import { type CoffeeNeed, coffeeNeeds } from '../../domain/table/coffee-needs.js';
import { doseFor } from '../../domain/table/dose.js';
import { type LocalDay, localDay } from '../../domain/when/local-day.js';
import { findAsk, listLotsOfAsks } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listLots } from '../../store/lots.js';
import { bookedAt, listHeld } from '../../store/reservations.js';
import { listTastings } from '../../store/tastings.js';
import { loadTable } from '../common/load-table.js';
import { type HostClaim, type RoastedFor, shareShelf } from './plan-roasts-share.js';

/** Cups that a table usually spoons together on the spot: common practice, no source. */
export const POURS_TO_COME = 2;

/** One booked table and what it needs roasted. */
export type TableNeed = {
  readonly setting: TableSetting;
  readonly needs: readonly CoffeeNeed[];
  readonly rests: ReadonlyMap<number, RestDays>;
  /** Day of the tasting on the house's calendar. */
  readonly tableDay: LocalDay;
  /** Grams of each need that are only kept back. */
  readonly spareMg: number;
};

/** Everything a plan is made from: the booked tables in booking order, and who gets what of the shelf. */
export type Supply = {
  readonly house: HouseFacts;
  readonly lots: readonly Lot[];
  readonly tables: readonly TableNeed[];
  readonly claims: readonly HostClaim[];
  readonly shared: ShelfPlan;
};

/** Works out, from state alone, what every booked table needs and what the shelf gives it. */
export async function loadSupply(db: DbOrTransaction, workspace: string): Promise<Supply> {
  const house = await loadHouse(db, workspace);
  const booked = await bookedAt(db, workspace);
  const tables: TableNeed[] = [];
  const tastings = await listTastings(db, workspace, ['booked', 'ready']);
  for (const tasting of [...tastings].sort((a, b) => a.id - b.id)) {
    tables.push(tableNeed(await loadTable(db, workspace, tasting), house));
  }
  const claims = tables.flatMap((table) => claimsOf(table, booked.get(table.setting.tasting.id)));
  const lots = await freeLots(db, workspace);
  const shared = shareShelf(lots, claims, await roastedFor(db, workspace));
  return { house, lots, tables, claims, shared };
}

/** What one table needs of each coffee, and how long each has to rest. */
export function tableNeed(setting: TableSetting, house: HouseFacts): TableNeed {
  const { tasting, coffees } = setting;
  const needs = coffeeNeeds({
    cups: setting.cups,
    dose: doseFor(tasting.format, tasting.invited.length, house, tasting.tables),
    tables: tasting.tables,
    poursToCome: POURS_TO_COME,
    purgeMg: house.purgeMg,
    spareMg: house.spareMg,
    readyTimes: house.readyTimes,
    scaleStepMg: house.scaleStepMg,
  });
  const rests = new Map<number, RestDays>();
  for (const { coffeeId } of needs) {
    const coffee = coffees.get(coffeeId);
    if (!coffee) continue;
    const subject = { coffeeId, role: coffee.role, level: coffee.level, use: tasting.format };
    rests.set(coffeeId, restDaysFor(subject, house.restWindows));
  }
  const tableDay = localDay(tasting.startsAt, house.timeZone);
  return { setting, needs, rests, tableDay, spareMg: house.spareMg };
}

function claimsOf(table: TableNeed, booked: Date | undefined): readonly HostClaim[] {
  const { tasting } = table.setting;
  return table.needs.flatMap((need) => {
    const rest = table.rests.get(need.coffeeId);
    if (!rest) return [];
    return [
      {
        tastingId: tasting.id,
        bookedAt: booked ?? tasting.startsAt,
        coffeeId: need.coffeeId,
        mg: need.totalMg,
        tableDay: table.tableDay,
        rest,
        host: tasting.host,
      },
    ];
  });
}

/** Lots without what tables hold that are already set: those keep theirs until they close. */
async function freeLots(db: DbOrTransaction, workspace: string): Promise<readonly Lot[]> {
  const held = (await listHeld(db, workspace)).filter(
    (row) => row.state === 'open' || row.state === 'closed' || row.state === 'decided',
  );
  return (await listLots(db, workspace)).map((lot) => {
    const taken = held.filter((row) => row.lotId === lot.id).reduce((sum, row) => sum + row.mg, 0);
    return { ...lot, mg: Math.max(0, lot.mg - taken) };
  });
}

async function roastedFor(db: DbOrTransaction, workspace: string): Promise<ReadonlyMap<number, RoastedFor>> {
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
