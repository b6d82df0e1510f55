import type { HouseFacts } from '../../domain/house/house-facts.js';
import { restDaysFor } from '../../domain/house/rest-window.js';
import { type Nearest, nearestCoffees } from '../../domain/production/stand-in.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { restState } from '../../domain/roast/shelf.js';
import { coffeeProfiles } from '../../store/ask-profiles.js';
import { findCoffee, listCoffees } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listLotsOf, listReservations } from '../../store/lots.js';
import type { TableNeed } from '../planning/plan-roasts-supply.js';

/**
 * The coffee on the shelf nearest to one that a table lacks, by what tasters named in both and by role, with
 * enough grams for what the cups take; null when none is. Coffees already on the table are no stand-in.
 */
export async function nearestOnShelf(
  db: DbOrTransaction,
  workspace: string,
  table: TableNeed,
  coffeeId: number,
  house: HouseFacts,
): Promise<Nearest | null> {
  const missing = await findCoffee(db, workspace, coffeeId);
  const need = table.needs.find((entry) => entry.coffeeId === coffeeId);
  if (!missing || !need) return null;
  // A coffee of the blend whose cups were dropped is no stand-in for another: no blend holds one twice.
  const onTable = new Set([...table.needs, ...table.setting.recipe.parts].map((entry) => entry.coffeeId));
  const profiles = await coffeeProfiles(db, workspace);
  const profileOf = (coffee: Coffee) => profiles.get(coffee.id) ?? new Map<string, number>();
  const candidates = [];
  for (const coffee of await listCoffees(db, workspace)) {
    if (onTable.has(coffee.id)) continue;
    const freeMg = await freeOnShelf(db, workspace, coffee, table, house);
    const availableMg = freeMg >= need.tableMg + need.purgeMg ? freeMg : 0;
    candidates.push({ coffee, profile: profileOf(coffee), availableMg });
  }
  return nearestCoffees({ coffee: missing, profile: profileOf(missing) }, candidates)[0] ?? null;
}

/** Milligrams of a coffee that would be good for the table and that nobody holds. */
async function freeOnShelf(
  db: DbOrTransaction,
  workspace: string,
  coffee: Coffee,
  table: TableNeed,
  house: HouseFacts,
): Promise<number> {
  const use = table.setting.tasting.format;
  const subject = { coffeeId: coffee.id, role: coffee.role, level: coffee.level, use };
  const rest = restDaysFor(subject, house.restWindows);
  const held = await listReservations(db, workspace);
  return (await listLotsOf(db, workspace, coffee.id))
    .filter((lot) => restState(lot, rest, table.tableDay) === 'good')
    .map((lot) => {
      const taken = held.filter((row) => row.lotId === lot.id).reduce((sum, row) => sum + row.mg, 0);
      return Math.max(0, lot.mg - taken);
    })
    .reduce((sum, mg) => sum + mg, 0);
}
