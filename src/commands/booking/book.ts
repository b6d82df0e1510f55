import { formatRatio } from '../../domain/ratio/parts.js';
import { formatTime, localDay } from '../../domain/when/local-day.js';
import { UserError } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import { listRecipes } from '../../store/recipes.js';
import type { Answer, Deps, Feature } from '../common/bot.js';
import type { Typed } from '../common/intake.js';
import { takeTastingName, whichTasting } from '../common/load-table.js';
import { bookAnswer, submitBooking } from './book-submitted.js';
import { bookingChannel, bookTasting, recipeComponents } from './book-tasting.js';
import { type BookingWords, readBookingWords, readRatios } from './book-words.js';
import { BOOK_FORM, bookForm, MOVE_FORM } from './booking-forms.js';
import { cancelTap, changeByWords, changeTap, moveSubmitted } from './change-booking.js';

export const book: Feature = {
  verb: {
    name: 'book',
    does: 'book a tasting, move it or cancel it',
    example: '/spoon book "Harbour Lamp" fri 14:00 ratios 50/30/20 2:1:1 with @noor @teo blind',
    run: typedBooking,
  },
  taps: {
    'book.form': {
      for: 'book',
      run: (deps, tap) => openBookForm(deps, { who: tap.who, channel: tap.channel ?? '' }, null),
    },
    'book.change': { for: 'change table', run: changeTap },
    'book.cancel': { for: 'cancel tasting', run: cancelTap },
  },
  forms: {
    [BOOK_FORM]: { for: 'book', run: submitBooking },
    [MOVE_FORM]: { for: 'change table', run: moveSubmitted },
  },
  subjects: {},
};

async function typedBooking(deps: Deps, typed: Typed): Promise<Answer> {
  const { workspace } = typed.who;
  const named = takeTastingName(typed.words);
  if (named.number !== null) {
    return changeByWords(deps, typed.who, await whichTasting(deps.db, typed, named.number), named.rest);
  }
  const house = await loadHouse(deps.db, workspace);
  const recipes = await listRecipes(deps.db, workspace);
  const now = deps.clock.now();
  const names = recipes.map((recipe) => recipe.name);
  const words = readBookingWords(typed.words, names, now, house.timeZone);
  const recipe = recipes.find((known) => known.name === words.recipe);
  if (!recipe || words.at === null) return openBookForm(deps, typed, words);
  const { ratios, said } = readRatios(words.ratios, await recipeComponents(deps.db, workspace, recipe));
  const booking = {
    recipe,
    at: words.at,
    ratios,
    channel: bookingChannel(typed.channel, house.channel),
    people: words.people,
    blind: words.blind || house.blindByDefault,
    format: words.format ?? house.formatByDefault,
    tables: words.tables ?? 1,
    brief: words.brief,
  };
  const booked = await bookTasting(deps, typed.who, booking);
  const remarks = [...(words.whenNote ? [words.whenNote] : []), ...said];
  return { message: bookAnswer(booked, booking, house.timeZone, now, remarks) };
}

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
    throw new UserError('There is no blend to taste yet.', 'Add one first: `/spoon recipe add`');
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
