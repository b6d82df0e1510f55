import { setTimeout as pause } from 'node:timers/promises';
import type { Received } from '../commands/common/intake.js';
import { isCardInFlight } from '../store/notices.js';
import type { InnerEvent } from './events.js';
import type { House } from './house.js';

const PATIENCE_MS = 1500;
const STEP_MS = 25;

/** Not a fault: the event comes again. It has a code, as Bolt wraps errors without one. */
export class CardStillInFlight extends Error {
  readonly code = 'card_still_in_flight';
}

/**
 * Somebody can reply under a card before the bot has heard from Slack where the card stands: Slack shows a
 * message before it answers the call that posted it, and an answer can be lost. Such an event belongs to no
 * known thread yet. This waits until the card's place is known and asks again.
 *
 * @throws CardStillInFlight when the place is still not known, so that Slack hears 500 and sends the event again
 */
export async function concernsCardInFlight(
  house: House,
  received: Received,
  event: InnerEvent,
): Promise<boolean> {
  const threadTs = event.thread_ts ?? event.message?.thread_ts ?? event.previous_message?.thread_ts;
  const { channel } = event;
  if (event.type !== 'message' || threadTs === undefined || channel === undefined) return false;
  const { db } = house.deps;
  for (let waited = 0; await isCardInFlight(db, received.workspace, channel, threadTs); waited += STEP_MS) {
    if (waited >= PATIENCE_MS) throw new CardStillInFlight('an event is about a card that is being posted');
    await pause(STEP_MS);
    if (await house.bot.concerns(house.deps, received)) return true;
  }
  return house.bot.concerns(house.deps, received);
}
