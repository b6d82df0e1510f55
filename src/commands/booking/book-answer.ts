import { formatWhen } from '../../domain/when/local-day.js';
import type { Message } from '../../kit/message.js';
import type { Booked, Booking } from './book-tasting.js';
import { bookedMessage } from './booked-message.js';

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
