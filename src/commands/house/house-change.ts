import { type FactName, HouseFacts, parseFact, showFact, showFacts } from '../../domain/house/house-facts.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import type { Db } from '../../store/db.js';
import { listToldFacts, loadHouse, resetFact, saveHouse } from '../../store/house.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer, Deps } from '../common/bot.js';
import type { Who } from '../common/intake.js';
import { isKeeper, requireKeeper } from '../common/standing.js';
import { replanShelf } from '../planning/plan-roasts.js';
import { factText, type HouseShown, houseCardMessage } from './house-messages.js';

/** Names of house facts, as buttons and forms carry them. */
export const FactNameValue = HouseFacts.keyof();

/** Facts given in words, by name: what a form or a command says. */
export type FactWords = readonly { readonly name: FactName; readonly words: string }[];

/** The house as this person sees it. */
export async function houseShown(db: Db, who: Who): Promise<HouseShown> {
  const house = await loadHouse(db, who.workspace);
  return {
    facts: showFacts(house),
    told: await listToldFacts(db, who.workspace),
    mayChange: isKeeper(house, who.person),
  };
}

/** The house card; `done` says what just happened. */
export async function houseCard(db: Db, who: Who, done?: string): Promise<Message> {
  return houseCardMessage(await houseShown(db, who), done);
}

/**
 * Changes facts from words, all or none; asks and tables that depend on them are worked out anew.
 *
 * @throws {UserError} naming the fact (its input) that could not be read, or when the person is no steward
 */
export async function changeHouse(deps: Deps, who: Who, facts: FactWords): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    const before = await loadHouse(trx, who.workspace);
    requireKeeper(before, who.person);
    let house = before;
    const said: string[] = [];
    for (const { name, words } of facts) {
      const parsed = parseFact(name, words, house);
      if (!parsed.ok) throw new UserError(mrkdwn(parsed.message), null, name);
      house = parsed.house;
      if (JSON.stringify(house[name]) !== JSON.stringify(before[name])) said.push(factText(parsed.said));
    }
    const told = Object.fromEntries(facts.map(({ name }) => [name, house[name]]));
    const now = deps.clock.now();
    await saveHouse(trx, who.workspace, told, who.person, now);
    await showAnew(trx, who, now, [before, house]);
    const done = said.length > 0 ? `Kept: ${said.join('; ')}.` : 'Kept; nothing is different.';
    return { message: await houseCard(trx, who, done) };
  });
}

/** Puts one fact back to its default. */
export async function resetHouseFact(deps: Deps, who: Who, name: FactName): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    const before = await loadHouse(trx, who.workspace);
    requireKeeper(before, who.person);
    const now = deps.clock.now();
    await resetFact(trx, who.workspace, name, who.person, now);
    const house = await loadHouse(trx, who.workspace);
    await showAnew(trx, who, now, [before, house]);
    const { label, value } = showFact(name, house);
    return { message: await houseCard(trx, who, `Back to the default: ${label} ${factText(value)}.`) };
  });
}

/** Tables and asks follow, and so does what the people concerned see on their home tab. */
async function showAnew(trx: Db, who: Who, now: Date, houses: readonly HouseFacts[]): Promise<void> {
  await replanShelf(trx, { workspace: who.workspace, who: who.person, now });
  const people = new Set(houses.flatMap((house) => [...house.stewards, house.roasterPerson ?? []].flat()));
  for (const person of people) await markChanged(trx, who.workspace, `person:${person}`, now);
}
