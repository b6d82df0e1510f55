import { z } from 'zod';
import type { HouseFacts } from '../../domain/house/house-facts.js';
import type { Message } from '../../kit/message.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { Id, readValue } from '../common/values.js';
import type { Who } from '../common/who.js';
import { openAskForm } from '../roasting/ask-new.js';
import { shelfCardMessage } from './shelf-card-message.js';
import { shelfListMessage } from './shelf-list-message.js';
import { loadShelf, requireShown, type Shelf } from './shelf-load.js';

/** The shelf with the house's facts, as this moment shows them. */
export type ShelfNow = { readonly shelf: Shelf; readonly facts: HouseFacts; readonly now: Date };

/** Loads the shelf for a person. */
export async function shelfNow(deps: Deps, who: Who, db: DbOrTransaction = deps.db): Promise<ShelfNow> {
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
  db: DbOrTransaction = deps.db,
): Promise<Message> {
  const { shelf } = await shelfNow(deps, who, db);
  return shelfCardMessage(requireShown(shelf, coffeeId), shelf.house, done);
}

const Page = z.object({ from: z.number().int().nonnegative() });

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

/** Asks the roaster for this coffee, from its card. */
export async function askTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { shelf } = await shelfNow(deps, tap.who);
  const { coffee } = requireShown(shelf, readValue(Id, tap.value));
  return openAskForm(deps, tap.who, { coffeeId: coffee.id, grams: '', day: null, said: null });
}
