import { setTimeout as pause } from 'node:timers/promises';
import type { App } from '@slack/bolt';
import type { Received } from '../../commands/common/intake.js';
import { insertEvent } from '../../store/inbox.js';
import { isCardInFlight, reviveNotices } from '../../store/notices.js';
import type { Runtime } from '../runtime.js';
import { EVENT_TYPES, EventEnvelope, isStaleCommand, readEvent, toInbox } from './slack-event.js';

/**
 * Events: the only listener that may throw, since then Slack hears 500 and sends the event again. It stores
 * the event and nothing else; Slack hears 200 after that commit.
 */
export function listenForEvents(app: App, runtime: Runtime): void {
  app.event(new RegExp(`^(${EVENT_TYPES.join('|')})$`), async ({ body }) => {
    const envelope = EventEnvelope.safeParse(body);
    if (envelope.success) await takeIn(runtime, envelope.data);
    else runtime.deps.log.warn('an event came in a shape that cannot be read');
  });
}

/** Stores an event if it is the bot's business; true when it was new. */
export async function takeIn(runtime: Runtime, envelope: EventEnvelope): Promise<boolean> {
  const { bot, deps, me } = runtime;
  if (envelope.team_id !== me.workspace) return false;
  const received = readEvent(envelope, me);
  if (received === null) return false;
  if (received.kind === 'member_joined_channel') {
    await reviveNotices(deps.db, me.workspace, received.channel);
    runtime.wake();
  }
  const now = deps.clock.now();
  if (isStaleCommand(received, now)) {
    deps.log.warn({ eventId: envelope.event_id }, 'words said to the bot came a day late and are let go');
    return false;
  }
  if (!(await bot.concerns(deps, received)) && !(await concernsCardInFlight(runtime, received))) return false;
  runtime.counters.received.inc({ kind: received.kind });
  const isNew = await insertEvent(deps.db, toInbox(envelope, received, now));
  if (isNew) runtime.wake();
  return isNew;
}

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
async function concernsCardInFlight({ bot, deps }: Runtime, received: Received): Promise<boolean> {
  if (!('threadTs' in received) || received.threadTs === null) return false;
  const { workspace, channel, threadTs } = received;
  for (let waited = 0; await isCardInFlight(deps.db, workspace, channel, threadTs); waited += STEP_MS) {
    if (waited >= PATIENCE_MS) throw new CardStillInFlight('an event is about a card that is being posted');
    await pause(STEP_MS);
    if (await bot.concerns(deps, received)) return true;
  }
  return bot.concerns(deps, received);
}
