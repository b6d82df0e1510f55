import type { App } from '@slack/bolt';
import { reviveNotices } from '../store/notices.js';
import { concernsCardInFlight } from './card-in-flight.js';
import { EVENT_TYPES, EventEnvelope, isStaleCommand, keepEvent, kindOf, readEvent } from './events.js';
import type { House } from './house.js';

/**
 * Events: the only listener that may throw, since then Slack hears 500 and sends the event again. It stores
 * the event and nothing else; Slack hears 200 after that commit.
 */
export function listenForEvents(app: App, house: House): void {
  app.event(new RegExp(`^(${EVENT_TYPES.join('|')})$`), async ({ body }) => {
    const envelope = EventEnvelope.safeParse(body);
    if (!envelope.success) {
      house.deps.log.warn('an event came in a shape that cannot be read');
      return;
    }
    await takeIn(house, envelope.data);
  });
}

/** Stores an event if it is the bot's business; true when it was new. */
export async function takeIn(house: House, envelope: EventEnvelope): Promise<boolean> {
  const { deps, me } = house;
  if (envelope.team_id !== me.workspace) return false;
  const kind = kindOf(envelope.event, me);
  if (kind === null) return false;
  const { event } = envelope;
  if (kind === 'member_joined_channel' && event.user === me.botUserId && event.channel) {
    await reviveNotices(deps.db, me.workspace, event.channel);
    house.wake();
  }
  const now = deps.clock.now();
  if (isStaleCommand(kind, event, now)) {
    deps.log.warn({ eventId: envelope.event_id }, 'words said to the bot came a day late and are let go');
    return false;
  }
  const received = readEvent(kind, envelope, me, now);
  const ours =
    (await house.bot.concerns(deps, received)) || (await concernsCardInFlight(house, received, event));
  if (!ours) return false;
  house.counters.received.inc({ kind });
  const isNew = await house.inbox.insert(keepEvent(kind, envelope, now));
  if (isNew) house.wake('worker');
  return isNew;
}
