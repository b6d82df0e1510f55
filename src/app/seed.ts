import type { Deps } from '../commands/common/bot.js';
import { isRoastDay } from '../domain/roast/roast-day.js';
import { daysAfter, type LocalDay, localDay } from '../domain/when/local-day.js';
import { markChanged } from '../store/changed.js';
import { insertCoffee, listCoffees } from '../store/coffees.js';
import type { DbOrTransaction } from '../store/db.js';
import { loadHouse, saveHouse } from '../store/house.js';
import { insertLot, listLotsOf } from '../store/lots.js';
import { insertRecipe, listRecipes } from '../store/recipes.js';
import { inTransaction } from '../store/transaction.js';
import { DEMO_BLEND, DEMO_COFFEES, demoHouse } from './seed-scenario.js';

/**
 * Sets up the invented roastery of the demo: its house facts, three coffees, their blend and some roasted
 * grams. What is there already stays as it is, so it can run at every start.
 *
 * @param people handle → Slack user id; `ines` becomes steward and `bram` roaster when they are there
 */
export async function seedScenario(
  deps: Deps,
  workspace: string,
  people: ReadonlyMap<string, string>,
  channel: string,
): Promise<void> {
  await inTransaction(deps.db, async (trx) => {
    const now = deps.clock.now();
    const who = people.get('ines') ?? 'tallyspoon';
    const before = await loadHouse(trx, workspace);
    if (before.stewards.length === 0 && before.roasterPerson === null) {
      await saveHouse(trx, workspace, demoHouse(people, channel), who, now);
    }
    const ids = await seedCoffees(trx, workspace, who, now);
    await seedBlend(trx, workspace, who, now, ids);
    for (const person of people.values()) await markChanged(trx, workspace, `person:${person}`, now);
  });
}

async function seedCoffees(
  db: DbOrTransaction,
  workspace: string,
  who: string,
  now: Date,
): Promise<ReadonlyMap<string, number>> {
  const house = await loadHouse(db, workspace);
  const roastedOn = latestRoastDay(localDay(now, house.timeZone), (day) => isRoastDay(day, house));
  const known = await listCoffees(db, workspace);
  const ids = new Map<string, number>();
  for (const { roastedMg, ...coffee } of DEMO_COFFEES) {
    const there = known.find((other) => other.name === coffee.name);
    const id = there?.id ?? (await insertCoffee(db, { ...coffee, workspace, who, at: now }));
    ids.set(coffee.name, id);
    if (there || roastedMg === 0 || (await listLotsOf(db, workspace, id)).length > 0) continue;
    const bestBy = daysAfter(roastedOn, house.bestByDays);
    const lot = { workspace, coffeeId: id, mg: roastedMg, roastedOn, bestBy, roastId: null };
    await insertLot(db, { ...lot, who, at: now });
  }
  return ids;
}

async function seedBlend(
  db: DbOrTransaction,
  workspace: string,
  who: string,
  now: Date,
  ids: ReadonlyMap<string, number>,
): Promise<void> {
  const recipes = await listRecipes(db, workspace);
  if (recipes.some((recipe) => recipe.name === DEMO_BLEND.name)) return;
  await insertRecipe(db, {
    workspace,
    name: DEMO_BLEND.name,
    parts: DEMO_BLEND.parts.flatMap(({ coffee, parts, roastGroup }) => {
      const coffeeId = ids.get(coffee);
      return coffeeId === undefined ? [] : [{ coffeeId, parts, roastGroup }];
    }),
    groupLossBp: new Map(),
    why: 'The blend as it is sold.',
    tastingId: null,
    who,
    at: now,
  });
}

/** The latest roast day, today included, so that the coffee is still good for a table in ten days. */
function latestRoastDay(today: LocalDay, roasts: (day: LocalDay) => boolean): LocalDay {
  const days = Array.from({ length: 14 }, (_, back) => daysAfter(today, -back));
  return days.find(roasts) ?? today;
}
