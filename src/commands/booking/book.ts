import { z } from 'zod';
import { formatRatio } from '../../domain/ratio/parts.js';
import { formatTime, formatWhen, localDay } from '../../domain/when/local-day.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import { findRecipe, listRecipes } from '../../store/recipes.js';
import type { Answer, Deps, Feature, SubmitAnswer } from '../common/bot.js';
import { chosen, readValue, type Submission, splitWords, type Typed, written } from '../common/intake.js';
import { takeTastingName, whichTasting } from '../common/load-table.js';
import { type Booked, type Booking, bookingChannel, bookTasting, recipeComponents } from './book-tasting.js';
import { type BookingWords, readBookingWords, readRatios, readRatioTexts } from './book-words.js';
import { bookedMessage } from './booked-message.js';
import { BOOK_FORM, bookForm, MOVE_FORM } from './booking-forms.js';
import { cancelTap, changeByWords, changeTap, moveSubmitted, readStart } from './change-booking.js';

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
  if (takeTastingName(typed.words).number !== null) {
    const { tasting, rest } = await whichTasting(deps.db, typed);
    return changeByWords(deps, typed.who, tasting, rest);
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

const State = z.object({ channel: z.string() });

/** The booking form, sent. */
async function submitBooking(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { channel } = readValue(State, form.privateMetadata);
  const house = await loadHouse(deps.db, who.workspace);
  const now = deps.clock.now();
  const recipe = await findRecipe(deps.db, who.workspace, Number(written(form, 'recipe')));
  if (!recipe) throw new UserError('That blend is gone.', 'Choose another.', 'recipe');
  const at = readStart(written(form, 'day'), written(form, 'time'), house.timeZone, now);
  const texts = written(form, 'ratios')
    .split('\n')
    .flatMap((line) => readRatioTexts(splitWords(line)));
  const { ratios, said } = readRatios(texts, await recipeComponents(deps.db, who.workspace, recipe));
  const booking = {
    recipe,
    at,
    ratios,
    channel,
    people: chosen(form, 'people'),
    blind: chosen(form, 'style').includes('blind'),
    format: written(form, 'format') === 'brewed' ? ('brewed' as const) : ('cupping' as const),
    tables: readTables(written(form, 'tables')),
    brief: written(form, 'brief') || null,
  };
  const booked = await bookTasting(deps, who, booking);
  return { message: bookAnswer(booked, booking, house.timeZone, now, said) };
}

function readTables(text: string): number {
  const tables = Number(text || '1');
  if (Number.isInteger(tables) && tables >= 1 && tables <= 20) return tables;
  throw new UserError(
    `I read “${text}” as the number of tables.`,
    'Give a whole number from 1 to 20.',
    'tables',
  );
}

/** What the host hears after booking. */
function bookAnswer(
  booked: Booked,
  booking: Booking,
  zone: string,
  now: Date,
  remarks: readonly string[],
): Message {
  return bookedMessage({
    tastingId: booked.tastingId,
    name: booked.name,
    recipe: booking.recipe.name,
    when: formatWhen(booking.at, zone, now),
    cups: booked.cups,
    blind: booking.blind,
    remarks,
    roasts: booked.plan.coffees.map((coffee) => coffee.said),
  });
}
