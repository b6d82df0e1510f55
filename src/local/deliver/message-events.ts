import type { Channel, JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import type { StoredMessage } from '../state/messages.js';
import { findMessage } from '../state/messages.js';
import { channelType, tellBot } from './events.js';
import { wireMessage } from './wire-message.js';

/** A new message: one `message` event and, where the bot is named outside a DM, one `app_mention`. */
export function messagePosted(ctx: Context, channel: Channel, message: StoredMessage): void {
  const root =
    message.broadcast && message.threadTs !== null
      ? findMessage(ctx.db, channel.id, message.threadTs)
      : undefined;
  const event: JsonObject = {
    ...wireMessage(ctx, message, { metadata: true }),
    ...(root === undefined ? {} : { root: wireMessage(ctx, root, { full: true }) }),
    channel: channel.id,
    channel_type: channelType(channel),
    event_ts: message.ts,
  };
  const mention = mentionOf(ctx, channel, message, message.ts);
  // Slack promises no order between the two; the ts makes it vary and still repeat with the clock.
  const both = mention === undefined ? [event] : [event, mention];
  const parity = Number(message.ts.at(-1)) + Number(message.ts.at(-4));
  for (const one of parity % 2 === 0 ? both : both.reverse()) tellBot(ctx, channel, one);
}

/** An edit, or any other change of a message; `before` is the message as it was. */
export function messageChanged(
  ctx: Context,
  channel: Channel,
  before: StoredMessage,
  after: StoredMessage,
): void {
  const at = after.editedTs ?? ctx.newTs();
  tellBot(ctx, channel, {
    type: 'message',
    subtype: 'message_changed',
    hidden: true,
    message: wireMessage(ctx, after, { metadata: true, full: true }),
    previous_message: wireMessage(ctx, before, { metadata: true, full: true }),
    channel: channel.id,
    channel_type: channelType(channel),
    ts: at,
    event_ts: at,
  });
  const mention =
    after.editedTs === null || after.text === before.text ? undefined : mentionOf(ctx, channel, after, at);
  if (mention !== undefined) tellBot(ctx, channel, mention);
}

/** A message that is gone for good. */
export function messageDeleted(ctx: Context, channel: Channel, before: StoredMessage): void {
  const at = ctx.newTs();
  tellBot(ctx, channel, {
    type: 'message',
    subtype: 'message_deleted',
    hidden: true,
    previous_message: wireMessage(ctx, before, { metadata: true }),
    channel: channel.id,
    channel_type: channelType(channel),
    ts: at,
    deleted_ts: before.ts,
    event_ts: at,
  });
}

function mentionOf(
  ctx: Context,
  channel: Channel,
  message: StoredMessage,
  at: string,
): JsonObject | undefined {
  if (channel.kind === 'im' || message.botId !== null || message.user === null) return undefined;
  if (!message.text.includes(`<@${ctx.identity.botUserId}>`)) return undefined;
  const { subtype: _subtype, ...shown } = wireMessage(ctx, message);
  return { ...shown, type: 'app_mention', channel: channel.id, event_ts: at };
}
