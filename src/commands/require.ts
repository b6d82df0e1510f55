import type { HouseFacts } from '../domain/house/house-facts.js';
import { KindRefusal } from '../errors.js';

/** Stewards look after the house; while it has none, anyone may, so that the first one can be named. */
export function isSteward(facts: HouseFacts, person: string): boolean {
  return facts.stewards.length === 0 || facts.stewards.includes(person);
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
