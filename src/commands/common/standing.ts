import type { HouseFacts } from '../../domain/house/house-facts.js';
import { type Action, may, type Standing, whoMay } from '../../domain/record/permission.js';
import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import { UserError } from '../../runtime/errors.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { isOfTable } from '../../store/tastings.js';
import type { Who } from './intake.js';

/** What a person is to a tasting, to an ask's roaster or to a note. */
export function standingOf(
  person: string,
  facts: Pick<HouseFacts, 'stewards'>,
  of: {
    readonly tasting?: Pick<Tasting, 'host'>;
    readonly present?: boolean;
    readonly roaster?: string;
    readonly writer?: string;
  },
): Standing {
  return {
    host: of.tasting?.host === person,
    steward: facts.stewards.includes(person),
    present: of.present ?? false,
    roaster: of.roaster === person,
    writer: of.writer === person,
    unkept: facts.stewards.length === 0,
  };
}

/** The one place where a person is let through or kindly turned away. */
export function requireMay(action: Action, who: Standing, tasting?: Pick<Tasting, 'host'>): void {
  if (may(action, who)) return;
  const host = tasting ? ` The host is <@${tasting.host}>.` : '';
  // What a steward could do waits for the first one, whom anyone may name.
  const forNobody = who.unkept && may(action, { ...who, steward: true });
  const instead = forNobody
    ? 'The house has named no steward yet: `/spoon house steward @name` does.'
    : 'Type `/spoon` to see what is next for you.';
  throw new UserError(`That is for ${whoMay(action)}.${host}`, instead);
}

/** Does this person ask where the table is, or are they one of its people? No channel is known in the home tab. */
export async function isPresent(
  db: Db,
  who: Who,
  channel: string | null,
  tasting: Pick<Tasting, 'id' | 'host' | 'invited' | 'channel'>,
): Promise<boolean> {
  return channel === tasting.channel || isOfTable(db, tasting, who.person);
}

/** What a person is to a table, asking in this channel. */
async function standingAt(db: Db, who: Who, channel: string | null, tasting: Tasting): Promise<Standing> {
  const present = await isPresent(db, who, channel, tasting);
  return standingOf(who.person, await loadHouse(db, who.workspace), { tasting, present });
}

/**
 * A table's channel may be private, and its number is easily guessed: elsewhere it answers its own people only.
 *
 * @throws {UserError} that says where to ask
 */
export async function requireAtTable(
  db: Db,
  who: Who,
  channel: string | null,
  tasting: Tasting,
  action: 'look at table' | 'taste' = 'look at table',
): Promise<void> {
  if (may(action, await standingAt(db, who, channel, tasting))) return;
  throw new UserError(
    `${tastingName(tasting)} is for ${whoMay(action)}.`,
    `Ask in <#${tasting.channel}>, where the table is.`,
  );
}

/** Lets a person do something to the house's things or, where it is named, to a table. */
export async function requireAllowed(
  db: Db,
  who: Who,
  action: Action,
  tasting?: Pick<Tasting, 'host'>,
): Promise<void> {
  const facts = await loadHouse(db, who.workspace);
  requireMay(action, standingOf(who.person, facts, tasting ? { tasting } : {}), tasting);
}

/** May this person change the house? Stewards may, and anyone while there is none. */
export function isKeeper(facts: HouseFacts, person: string): boolean {
  return may('change house', standingOf(person, facts, {}));
}

/** @throws {UserError} that names the stewards, when the house has some and this person is none of them */
export function requireKeeper(facts: HouseFacts, person: string): void {
  if (isKeeper(facts, person)) return;
  const names = facts.stewards.map((steward) => `<@${steward}>`).join(', ');
  throw new UserError(
    'Only a steward can change the house.',
    `Ask ${names}: a steward can also add you with \`/spoon house steward @you\`.`,
  );
}
