import { z } from 'zod';
import { type StandIn, whenRunsOut } from '../../domain/production/run-out.js';
import { freeOf } from '../../domain/roast/shelf.js';
import { coffeeProfiles } from '../../store/ask-profiles.js';
import { listCoffees } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listLots, listReservations } from '../../store/lots.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { Id, readValue } from '../common/values.js';
import { runOutView } from './production-forms.js';
import { requireDecided } from './table-decided.js';

const Value = z.object({ tasting: Id });
const NO_PROFILE: ReadonlyMap<string, number> = new Map();

/** For each coffee of the winning ratio: which is nearest to it, what to taste first, what it would cost. */
export async function runsOutTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { workspace } = tap.who;
  const { plan, house, blend } = await requireDecided(
    deps.db,
    tap.who,
    tap.channel,
    readValue(Value, tap.value).tasting,
  );
  const profiles = await coffeeProfiles(deps.db, workspace);
  const standIns = await coffeesAtHand(deps.db, workspace, profiles, plan.finishedMg);
  const runOuts = plan.parts.flatMap(({ coffeeId }) => {
    const profile = profiles.get(coffeeId) ?? NO_PROFILE;
    return whenRunsOut(plan, coffeeId, profile, standIns, house) ?? [];
  });
  return { form: runOutView(blend, runOuts) };
}

/** Every coffee with what is free of it, roasted and green; green that the house does not count is taken to be there. */
async function coffeesAtHand(
  db: DbOrTransaction,
  workspace: string,
  profiles: ReadonlyMap<number, ReadonlyMap<string, number>>,
  uncountedMg: number,
): Promise<readonly StandIn[]> {
  const lots = await listLots(db, workspace);
  const held = await listReservations(db, workspace);
  return (await listCoffees(db, workspace)).map((coffee) => {
    const own = lots.filter((lot) => lot.coffeeId === coffee.id);
    const freeMg = own.reduce((sum, lot) => sum + freeOf(lot, held), 0);
    const availableMg = freeMg + (coffee.greenMg ?? uncountedMg);
    return { coffee, profile: profiles.get(coffee.id) ?? NO_PROFILE, availableMg };
  });
}
