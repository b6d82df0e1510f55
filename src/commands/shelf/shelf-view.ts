import { restDaysFor } from '../../domain/house/rest-window.js';
import { percentages } from '../../domain/ratio/parts.js';
import type { Coffee, Lot } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { TASTING_STATES, tastingName } from '../../domain/record/tasting.js';
import { localDay } from '../../domain/when/local-day.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { listCoffees } from '../../store/coffees.js';
import { type Db, inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listRecipes } from '../../store/recipes.js';
import { listRoastsAlone } from '../../store/roasts.js';
import { listLots, listReservations, type Reservation } from '../../store/shelf.js';
import { listTastings } from '../../store/tastings.js';
import type { Answer, Deps } from '../common/bot.js';
import { Id, Page, readValue, type Tap, type Who } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { loadGroupRoasts, loadLosses } from '../planning/load-plan.js';
import { type AskContext, askContext } from '../planning/plan-roasts.js';
import {
  type ShelfCoffee,
  type ShelfHouse,
  type ShownRoast,
  shelfCardMessage,
  shelfListMessage,
} from './shelf-messages.js';

/** The whole shelf as people look at it. */
export type Shelf = { readonly coffees: readonly ShelfCoffee[]; readonly house: ShelfHouse };

/** Loads every coffee in use with its lots, what tastings hold of them, its loss and its blends. */
export async function loadShelf(deps: Deps, { workspace }: Who, db: Db = deps.db): Promise<Shelf> {
  const house = await loadHouse(db, workspace);
  const lots = await listLots(db, workspace);
  const held = await listReservations(db, workspace);
  const recipes = await listRecipes(db, workspace);
  const tastings = await listTastings(db, workspace, TASTING_STATES);
  const names = new Map(tastings.map((tasting) => [tasting.id, tastingName(tasting)]));
  const coffees: ShelfCoffee[] = [];
  for (const coffee of await listCoffees(db, workspace)) {
    const use = house.formatByDefault;
    coffees.push({
      coffee,
      losses: await loadLosses(db, { workspace, house }, coffee),
      roasts: await latestRoasts(db, workspace, coffee, recipes),
      rest: restDaysFor({ ...coffee, coffeeId: coffee.id, use }, house.restWindows),
      lots: lots.filter((lot) => lot.coffeeId === coffee.id).map((lot) => withHeld(lot, held, names)),
      blends: recipes.flatMap((recipe) => blendShare(recipe, coffee)),
    });
  }
  return { coffees, house: { ...house, today: localDay(deps.clock.now(), house.timeZone) } };
}

/** Changes the shelf as it stands, in one transaction, for somebody who may. */
export async function changeShelf<T>(
  deps: Deps,
  who: Who,
  run: (open: { readonly trx: Db; readonly shelf: Shelf; readonly context: AskContext }) => Promise<T>,
): Promise<T> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const shelf = await loadShelf(deps, who, trx);
    return run({ trx, shelf, context: await askContext(trx, deps, who) });
  });
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

/** The card of one coffee; `done` says what just happened to it. */
export async function coffeeCard(
  deps: Deps,
  who: Who,
  coffeeId: number,
  done?: string,
  db: Db = deps.db,
): Promise<Message> {
  const shelf = await loadShelf(deps, who, db);
  return shelfCardMessage(requireShown(shelf, coffeeId), shelf.house, done);
}

/** The whole shelf, a page at a time. */
export async function listTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { from } = readValue(Page, tap.value);
  const shelf = await loadShelf(deps, tap.who);
  return { message: shelfListMessage(shelf.coffees, shelf.house, from < shelf.coffees.length ? from : 0) };
}

/** One coffee, from the list's menu or a button. */
export async function openTap(deps: Deps, tap: Tap): Promise<Answer> {
  return { message: await coffeeCard(deps, tap.who, readValue(Id, tap.value)) };
}
