import { readFailure } from './call-outcome.js';
import type { House } from './house.js';

const KEPT_MS = 60 * 60_000;
/** Somebody whom Slack does not name: gone, or the app may not read names. */
const UNNAMED = 'a guest';

type Named = { readonly name: string; readonly until: number };
const known = new WeakMap<House, Map<string, Named>>();

/** How a person is called in Slack, for paper that cannot show a mention; asked for once an hour. */
export async function displayName(house: House, person: string): Promise<string> {
  const names = known.get(house) ?? new Map<string, Named>();
  known.set(house, names);
  const now = house.deps.clock.now().getTime();
  const held = names.get(person);
  if (held && held.until > now) return held.name;
  const name = await ask(house, person);
  if (name !== UNNAMED) names.set(person, { name, until: now + KEPT_MS });
  return name;
}

async function ask(house: House, person: string): Promise<string> {
  try {
    const { user } = await house.web.users.info({ user: person });
    return user?.profile?.display_name || user?.real_name || user?.name || UNNAMED;
  } catch (error) {
    if (readFailure(error).kind === 'refused') return UNNAMED;
    throw error;
  }
}
