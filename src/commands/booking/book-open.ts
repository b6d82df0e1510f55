import { formatRatio } from '../../domain/ratio/parts.js';
import { formatTime } from '../../domain/when/format-when.js';
import { localDay } from '../../domain/when/local-day.js';
import { KindRefusal } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import { listRecipes } from '../../store/recipes.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Typed } from '../common/intake.js';
import { bookForm } from './book-form.js';
import { bookingChannel } from './book-places.js';
import type { BookingWords } from './book-words.js';

/** Opens the booking form with what was already said. */
export async function openBookForm(
  deps: Deps,
  from: Pick<Typed, 'who' | 'channel'>,
  words: BookingWords | null,
): Promise<Answer> {
  const { workspace } = from.who;
  const house = await loadHouse(deps.db, workspace);
  const recipes = await listRecipes(deps.db, workspace);
  if (recipes.length === 0) {
    throw new KindRefusal(
      'not found',
      'There is no blend to taste yet.',
      'Add one first: `/spoon recipe add`',
    );
  }
  return {
    form: bookForm({
      recipes: recipes.map((recipe) => ({
        id: recipe.id,
        name: recipe.name,
        ratio: formatRatio(recipe.parts.map((part) => part.parts)),
      })),
      recipeId: recipes.find((recipe) => recipe.name === words?.recipe)?.id ?? null,
      day: words?.at ? localDay(words.at, house.timeZone) : null,
      time: words?.at ? formatTime(words.at, house.timeZone) : null,
      ratios: words?.ratios.join('\n') ?? '',
      people: words?.people ?? [],
      blind: words?.blind || house.blindByDefault,
      brewed: (words?.format ?? house.formatByDefault) === 'brewed',
      tables: words?.tables ?? 1,
      brief: words?.brief ?? '',
      channel: bookingChannel(from.channel, house.channel),
      zone: house.timeZone,
      problem: null,
    }),
  };
}
