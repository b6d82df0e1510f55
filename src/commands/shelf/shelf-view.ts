import type { HouseFacts } from '../../domain/house/house-facts.js';
import { restDaysFor } from '../../domain/house/rest-window.js';
import { percentages } from '../../domain/ratio/parts.js';
import type { Coffee, Lot } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { TASTING_STATES, tastingName } from '../../domain/record/tasting.js';
import { localDay } from '../../domain/when/local-day.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { listCoffees } from '../../store/coffees.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listRecipes } from '../../store/recipes.js';
import { listRoastsAlone } from '../../store/roasts.js';
import { listLots, listReservations, type Reservation } from '../../store/shelf.js';
import { listTastings } from '../../store/tastings.js';
import type { Answer, Deps } from '../common/bot.js';
import { Id, Page, readValue, type Tap, type Who } from '../common/intake.js';
import { loadGroupRoasts, loadLosses } from '../planning/load-plan.js';
import {
  type ShelfCoffee,
  type ShelfHouse,
  type ShownRoast,
  shelfCardMessage,
  shelfListMessage,
} from './shelf-messages.js';

/** The whole shelf as people look at it. */
type Shelf = {
  readonly coffees: readonly ShelfCoffee[];
  readonly house: ShelfHouse;
};

/** Loads every coffee in use with its lots, what tastings hold of them, its loss and its blends. */
async function loadShelf(db: Db, workspace: string, facts: HouseFacts, now: Date): Promise<Shelf> {
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
    shown.push({
      coffee,
      losses: await loadLosses(db, workspace, coffee, facts),
      roasts: await latestRoasts(db, workspace, coffee, recipes),
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

/** As many roasts of a coffee as its card shows, the latest first. */
const SHOWN_ROASTS = 3;

/** A coffee's latest roasts, alone and in its groups. */
async function latestRoasts(
  db: Db,
  workspace: string,
  coffee: Coffee,
  recipes: readonly Recipe[],
): Promise<readonly ShownRoast[]> {
  const roasts: ShownRoast[] = [...(await listRoastsAlone(db, workspace, coffee.id))];
  for (const recipe of recipes) {
    const group = recipe.parts.find((part) => part.coffeeId === coffee.id)?.roastGroup;
    const own = group ? (await loadGroupRoasts(db, workspace, recipe)).get(group) : null;
    roasts.push(...(own ?? []));
  }
  return roasts
    .sort((a, b) => (a.roastedOn === b.roastedOn ? b.id - a.id : a.roastedOn < b.roastedOn ? 1 : -1))
    .slice(0, SHOWN_ROASTS);
}

/** What of the house decides how a shelf is shown. */
function shelfHouse(facts: HouseFacts, now: Date): ShelfHouse {
  return { ...facts, today: localDay(now, facts.timeZone) };
}

/** The coffee with this id on the shelf. */
export function requireShown(shelf: Shelf, coffeeId: number): ShelfCoffee {
  const shown = shelf.coffees.find((entry) => entry.coffee.id === coffeeId);
  if (shown) return shown;
  throw new UserError('That coffee is no longer on the shelf’s list.', 'Type `/spoon shelf` to see what is.');
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

/** The shelf with the house's facts, as this moment shows them. */
export type ShelfNow = { readonly shelf: Shelf; readonly facts: HouseFacts; readonly now: Date };

/** Loads the shelf for a person. */
export async function shelfNow(deps: Deps, who: Who, db: Db = deps.db): Promise<ShelfNow> {
  const now = deps.clock.now();
  const facts = await loadHouse(db, who.workspace);
  return { shelf: await loadShelf(db, who.workspace, facts, now), facts, now };
}

/** The card of one coffee; `done` says what just happened to it. */
export async function coffeeCard(
  deps: Deps,
  who: Who,
  coffeeId: number,
  done?: string,
  db: Db = deps.db,
): Promise<Message> {
  const { shelf } = await shelfNow(deps, who, db);
  return shelfCardMessage(requireShown(shelf, coffeeId), shelf.house, done);
}

/** The whole shelf, a page at a time. */
export async function listTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { from } = readValue(Page, tap.value);
  const { shelf } = await shelfNow(deps, tap.who);
  return { message: shelfListMessage(shelf.coffees, shelf.house, from < shelf.coffees.length ? from : 0) };
}

/** One coffee, from the list's menu or a button. */
export async function openTap(deps: Deps, tap: Tap): Promise<Answer> {
  return { message: await coffeeCard(deps, tap.who, readValue(Id, tap.value)) };
}
