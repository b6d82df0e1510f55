import type { HouseFacts } from '../../domain/house/house-facts.js';
import { restDaysFor } from '../../domain/house/rest-window.js';
import { percentages } from '../../domain/ratio/parts.js';
import type { Coffee, Lot } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { TASTING_STATES, tastingName } from '../../domain/record/tasting.js';
import { estimateLoss } from '../../domain/roast/loss-estimate.js';
import { localDay } from '../../domain/when/local-day.js';
import { KindRefusal } from '../../runtime/errors.js';
import { listCoffees } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listLots, listReservations, type Reservation } from '../../store/lots.js';
import { listRecipes } from '../../store/recipes.js';
import { listRoastsAlone } from '../../store/roasts.js';
import { listTastings } from '../../store/tastings.js';
import type { ShelfCoffee, ShelfHouse } from './shelf-coffee-message.js';

/** The whole shelf as people look at it. */
export type Shelf = {
  readonly coffees: readonly ShelfCoffee[];
  readonly house: ShelfHouse;
};

/** Loads every coffee in use with its lots, what tastings hold of them, its loss and its blends. */
export async function loadShelf(
  db: DbOrTransaction,
  workspace: string,
  facts: HouseFacts,
  now: Date,
): Promise<Shelf> {
  const [coffees, lots, held, recipes, tastings] = [
    await listCoffees(db, workspace),
    await listLots(db, workspace),
    await listReservations(db, workspace),
    await listRecipes(db, workspace),
    await listTastings(db, workspace, TASTING_STATES),
  ];
  const names = new Map(tastings.map((tasting) => [tasting.id, tastingName(tasting)]));
  const shown: ShelfCoffee[] = [];
  for (const coffee of coffees) {
    const fallback = coffee.lossBp ?? facts.lossDefaultsBp[coffee.level];
    const roasts = await listRoastsAlone(db, workspace, coffee.id);
    shown.push({
      coffee,
      loss: estimateLoss(roasts, fallback),
      rest: restDaysFor(
        { coffeeId: coffee.id, role: coffee.role, level: coffee.level, use: facts.formatByDefault },
        facts.restWindows,
      ),
      lots: lots.filter((lot) => lot.coffeeId === coffee.id).map((lot) => withHeld(lot, held, names)),
      blends: recipes.flatMap((recipe) => blendShare(recipe, coffee)),
    });
  }
  return { coffees: shown, house: shelfHouse(facts, now) };
}

/** What of the house decides how a shelf is shown. */
function shelfHouse(facts: HouseFacts, now: Date): ShelfHouse {
  return { ...facts, today: localDay(now, facts.timeZone) };
}

/** The coffee with this id on the shelf. */
export function requireShown(shelf: Shelf, coffeeId: number): ShelfCoffee {
  const shown = shelf.coffees.find((entry) => entry.coffee.id === coffeeId);
  if (shown) return shown;
  throw new KindRefusal(
    'not found',
    'That coffee is no longer on the shelf’s list.',
    'Type `/spoon shelf` to see what is.',
  );
}

function withHeld(lot: Lot, held: readonly Reservation[], names: ReadonlyMap<number, string>) {
  const own = held.filter((reservation) => reservation.lotId === lot.id);
  return {
    lot,
    heldMg: own.reduce((sum, reservation) => sum + reservation.mg, 0),
    heldFor: [...new Set(own.map((reservation) => names.get(reservation.tastingId) ?? 'a tasting'))],
  };
}

function blendShare(recipe: Recipe, coffee: Coffee): readonly string[] {
  const at = recipe.parts.findIndex((part) => part.coffeeId === coffee.id);
  if (at < 0) return [];
  const share = percentages(recipe.parts.map((part) => part.parts))[at] ?? 0;
  return [`${recipe.name} (${share} %)`];
}
