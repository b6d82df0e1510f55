import { plainList } from '../../domain/measure/plain-list.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { archiveCoffee } from '../../store/coffees.js';
import { listRecipes } from '../../store/recipes.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { Id, readValue } from '../common/values.js';
import type { Who } from '../common/who.js';
import { requireShown } from './shelf-load.js';
import { settleShelf } from './shelf-settle.js';
import { shelfNow } from './shelf-show.js';

/** Takes a coffee out of use, unless a blend still stands on it. */
export async function archiveCoffeeOf(deps: Deps, who: Who, coffeeId: number): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const { shelf, now } = await shelfNow(deps, who, trx);
    const { coffee } = requireShown(shelf, coffeeId);
    const recipes = await listRecipes(trx, who.workspace);
    const blends = recipes.filter((recipe) => recipe.parts.some((part) => part.coffeeId === coffee.id));
    if (blends.length > 0) {
      const names = plainList(blends.map((recipe) => mrkdwn(recipe.name)));
      throw new KindRefusal(
        'not now',
        `${mrkdwn(coffee.name)} is part of ${names}.`,
        'Change or archive the blend first: `/spoon recipe`.',
      );
    }
    await archiveCoffee(trx, who.workspace, coffee.id, now);
    await settleShelf(trx, who, now);
    return {
      message: say(
        `Archived *${mrkdwn(coffee.name)}*. Its roasts and tastings stay on record.`,
        ...buttons(button('Whole shelf', 'shelf.list', { from: 0 })),
      ),
    };
  });
}

/** The button on a coffee's card. */
export async function archiveTap(deps: Deps, tap: Tap): Promise<Answer> {
  return archiveCoffeeOf(deps, tap.who, readValue(Id, tap.value));
}
