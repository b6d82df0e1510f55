import type { RatioComponent } from '../../domain/ratio/parse-ratio.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { KindRefusal } from '../../runtime/errors.js';
import { coffeesById } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';

/** A tasting lives in a channel: the one it is booked in, or the house's when booked from direct messages. */
export function bookingChannel(typedIn: string, houseChannel: string | null): string {
  if (typedIn !== '' && !typedIn.startsWith('D')) return typedIn;
  if (houseChannel !== null) return houseChannel;
  throw new KindRefusal(
    'not now',
    'A tasting is booked in the channel where its people are.',
    'Type `/spoon book` there, or set the house channel: `/spoon house channel #tasting-table`',
  );
}

/** The blend's coffees in recipe order, as ratios may name them. */
export async function recipeComponents(
  db: DbOrTransaction,
  workspace: string,
  recipe: Recipe,
): Promise<readonly RatioComponent[]> {
  const coffees = await coffeesById(
    db,
    workspace,
    recipe.parts.map((part) => part.coffeeId),
  );
  return recipe.parts.map(({ coffeeId }) => {
    const coffee = coffees.get(coffeeId);
    return { name: coffee?.name ?? '?', origin: coffee?.origin ?? null };
  });
}
