import type { HouseFacts } from '../domain/house/house-facts.js';
import { type Action, may, type Standing, whoMay } from '../domain/record/permission.js';
import type { Tasting } from '../domain/record/tasting.js';
import { KindRefusal } from '../errors.js';

/** What a person is to a tasting, or to an ask's roaster. */
export function standingOf(
  person: string,
  facts: Pick<HouseFacts, 'stewards'>,
  of: { readonly tasting?: Pick<Tasting, 'host'>; readonly roaster?: string },
): Standing {
  return {
    host: of.tasting?.host === person,
    steward: facts.stewards.length === 0 || facts.stewards.includes(person),
    roaster: of.roaster === person,
  };
}

/** The one place where a person is let through or kindly turned away. */
export function requireMay(action: Action, who: Standing, tasting?: Pick<Tasting, 'host'>): void {
  if (may(action, who)) return;
  const host = tasting ? ` The host is <@${tasting.host}>.` : '';
  throw new KindRefusal(
    'not allowed',
    `That is for ${whoMay(action)}.${host}`,
    'Type `/spoon` to see what is next for you.',
  );
}
