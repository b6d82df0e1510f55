import type { Channel, JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import { newId } from '../random.js';
import { isMember } from '../state/channels.js';
import { findMessage, type StoredMessage } from '../state/messages.js';
import { wireMessage } from './wire.js';

/** What the app's manifest subscribes to; message events are named by the kind of conversation. */
export const defaultEvents = [
  'message.channels',
  'message.groups',
  'message.im',
  'app_mention',
  'app_home_opened',
  'member_joined_channel',
] as const;

const messageSubscriptions = new Map([
  ['channel', 'message.channels'],
  ['group', 'message.groups'],
  ['im', 'message.im'],
]);

/** Sends an event about a conversation, when the bot is in it; call it inside the change's transaction. */
export function tellBot(ctx: Context, channel: Channel, event: JsonObject): void {
  if (isMember(ctx.db, channel.id, ctx.identity.botUserId)) sendEvent(ctx, event);
}

/** Wraps an event as the Events API does and hands it to the courier. */
export function sendEvent(ctx: Context, event: JsonObject): void {
  const type = String(event['type']);
  const subscription =
    type === 'message' ? messageSubscriptions.get(String(event['channel_type'])) : undefined;
  if (!ctx.subscriptions.has(subscription ?? type)) return;
  const { teamId, appId, botUserId, verificationToken } = ctx.identity;
  const eventId = newId('Ev');
  ctx.events.enqueue(eventId, {
    token: verificationToken,
    team_id: teamId,
    context_team_id: teamId,
    context_enterprise_id: null,
    api_app_id: appId,
    event,
    type: 'event_callback',
    event_id: eventId,
    event_time: Math.floor(ctx.clock.now().getTime() / 1_000),
    authorizations: [
      {
        enterprise_id: null,
        team_id: teamId,
        user_id: botUserId,
        is_bot: true,
        is_enterprise_install: false,
      },
    ],
    is_ext_shared_channel: false,
    event_context: newId('EC'),
  });
}

/** Where a message event happened, in the words of events. */
function placeOf(channel: Channel): JsonObject {
  return { channel: channel.id, channel_type: channel.kind === 'private' ? 'group' : channel.kind };
}

/** A new message: one `message` event and, where the bot is named outside a DM, one `app_mention`. */
export function messagePosted(ctx: Context, channel: Channel, message: StoredMessage): void {
  const root =
    message.broadcast && message.threadTs !== null
      ? findMessage(ctx.db, channel.id, message.threadTs)
      : undefined;
  const event: JsonObject = {
    ...wireMessage(ctx, message, { metadata: true }),
    ...(root === undefined ? {} : { root: wireMessage(ctx, root, { full: true }) }),
    ...placeOf(channel),
    event_ts: message.ts,
  };
  const both = [event, ...mentionsOf(ctx, channel, message, message.ts)];
  // Slack promises no order between the two; the ts makes it vary and still repeat with the clock.
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
    ...placeOf(channel),
    ts: at,
    event_ts: at,
  });
  if (after.editedTs === null || after.text === before.text) return;
  for (const mention of mentionsOf(ctx, channel, after, at)) tellBot(ctx, channel, mention);
}

/** A message that is gone for good. */
export function messageDeleted(ctx: Context, channel: Channel, before: StoredMessage): void {
  const at = ctx.newTs();
  tellBot(ctx, channel, {
    type: 'message',
    subtype: 'message_deleted',
    hidden: true,
    previous_message: wireMessage(ctx, before, { metadata: true }),
    ...placeOf(channel),
    ts: at,
    deleted_ts: before.ts,
    event_ts: at,
  });
}

/** The `app_mention` of a person's message that names the bot outside a DM, or nothing. */
function mentionsOf(ctx: Context, channel: Channel, message: StoredMessage, at: string): JsonObject[] {
  if (channel.kind === 'im' || message.botId !== null || message.person === null) return [];
  if (!message.text.includes(`<@${ctx.identity.botUserId}>`)) return [];
  const { subtype: _subtype, ...shown } = wireMessage(ctx, message);
  return [{ ...shown, type: 'app_mention', channel: channel.id, event_ts: at }];
}
