import { z } from 'zod';
import { formatWhen, isLocalDay } from '../../domain/when/local-day.js';
import { wallTime } from '../../domain/when/wall-time.js';
import type { Message } from '../../kit/message.js';
import { UserError } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import { findRecipe } from '../../store/recipes.js';
import type { Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, readValue, type Submission, splitWords, written } from '../common/intake.js';
import { type Booked, type Booking, bookTasting, recipeComponents } from './book-tasting.js';
import { readRatios, readRatioTexts } from './book-words.js';
import { bookedMessage } from './booked-message.js';

const State = z.object({ channel: z.string() });

/** The booking form, sent. */
export async function submitBooking(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
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

/** Day and time of a form, in the house's time zone; refused when past. */
export function readStart(day: string, time: string, zone: string, now: Date): Date {
  if (!isLocalDay(day)) throw new UserError('Which day is it?', null, 'day');
  if (!/^(?:[01]\d|2[0-3]):[0-5]\d$/.test(time))
    throw new UserError('At what time does it begin?', 'Like 14:00.', 'time');
  const [hours, minutes] = time.split(':').map(Number);
  const { at } = wallTime(day, (hours ?? 0) * 60 + (minutes ?? 0), zone);
  if (at <= now) throw new UserError('That day and time are past.', 'Choose a time to come.', 'day');
  return at;
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
export function bookAnswer(
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
