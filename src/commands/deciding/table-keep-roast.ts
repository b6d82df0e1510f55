import { greenOfGroup, plannedLossBp, type RoastGroupNote } from '../../domain/production/roast-groups.js';
import { coffeesById, updateCoffee } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { insertRoast } from '../../store/roasts.js';
import type { AskContext } from '../planning/ask-settle.js';
import type { ReadRoast } from './table-read-roast.js';

/** Keeps a roast of a group, and takes its green from the store, coffee by coffee. */
export async function keepGroupRoast(
  trx: DbOrTransaction,
  context: AskContext,
  recipeId: number,
  group: RoastGroupNote,
  roast: ReadRoast,
): Promise<void> {
  const { workspace, who, now: at, house } = context;
  const [first] = group.coffees;
  if (!first) return;
  await insertRoast(trx, {
    ...{ workspace, who, at, recipeId, roastGroup: group.group, coffeeId: first.coffeeId },
    ...{ level: null, colour: null, ...roast },
  });
  const ids = group.coffees.map((coffee) => coffee.coffeeId);
  const coffees = await coffeesById(trx, workspace, ids);
  const losses = ids.map((id) => {
    const coffee = coffees.get(id);
    return coffee ? plannedLossBp(coffee, house) : 0;
  });
  const roasted = group.coffees.map((coffee) => coffee.mg);
  const used = greenOfGroup(roast.greenMg, roasted, losses, 1);
  for (const [index, id] of ids.entries()) {
    const coffee = coffees.get(id);
    if (!coffee || coffee.greenMg === null) continue;
    await updateCoffee(trx, workspace, {
      ...coffee,
      greenMg: Math.max(0, coffee.greenMg - (used[index] ?? 0)),
    });
  }
}
