import type { HouseFacts } from '../domain/house/house-facts.js';
import { type Action, may } from '../domain/record/permission.js';
import { KindRefusal } from '../errors.js';
import type { DbOrTransaction } from '../store/db.js';
import { loadHouse } from '../store/house.js';
import { requireMay, standingOf } from './standing.js';
import type { Who } from './who.js';

/** Lets a person through to what concerns no single table: the shelf, the blends, the words. */
export async function requireAllowed(db: DbOrTransaction, who: Who, action: Action): Promise<void> {
  requireMay(action, standingOf(who.person, await loadHouse(db, who.workspace), {}));
}

/** Stewards look after the house; while it has none, anyone may, so that the first one can be named. */
export function isSteward(facts: HouseFacts, person: string): boolean {
  return may('change house', standingOf(person, facts, {}));
}

/** @throws {KindRefusal} when the house has stewards and this person is none of them */
export function requireSteward(facts: HouseFacts, person: string, what = 'change the house'): void {
  if (isSteward(facts, person)) return;
  const names = facts.stewards.map((steward) => `<@${steward}>`).join(', ');
  throw new KindRefusal(
    'not allowed',
    `Only a steward can ${what}.`,
    `Ask ${names}: a steward can also add you with \`/spoon house steward @you\`.`,
  );
}
