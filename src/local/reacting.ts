import type { Channel } from './api-types.js';
import type { Context } from './context.js';
import { tellBot } from './deliver/events.js';
import type { StoredMessage } from './state/messages.js';

/** Tells the bot of a reaction, when it is subscribed to them. */
export function tellReaction(
  ctx: Context,
  channel: Channel,
  message: StoredMessage,
  kind: 'added' | 'removed',
  name: string,
  person: string,
): void {
  tellBot(ctx, channel, {
    type: `reaction_${kind}`,
    user: person,
    reaction: name,
    item: { type: 'message', channel: channel.id, ts: message.ts },
    item_user: message.user,
    event_ts: ctx.newTs(),
  });
}
