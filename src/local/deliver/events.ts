import type { Channel, JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import { newId } from '../random.js';
import { botHears } from './wire-message.js';

/** What the app's manifest subscribes to; message events are named by the kind of conversation. */
export const defaultEvents = [
  'message.channels',
  'message.groups',
  'message.im',
  'app_mention',
  'app_home_opened',
  'member_joined_channel',
] as const;

/** How events name the kind of a conversation. */
export function channelType(channel: Channel): 'channel' | 'group' | 'im' {
  return channel.kind === 'private' ? 'group' : channel.kind;
}

/** Sends an event about a conversation, when the bot is in it; call it inside the change's transaction. */
export function tellBot(ctx: Context, channel: Channel, event: JsonObject): void {
  if (botHears(ctx, channel.id)) sendEvent(ctx, event);
}

const messageSubscription = {
  channel: 'message.channels',
  private: 'message.groups',
  im: 'message.im',
} as const;

function subscriptionOf(event: JsonObject): string {
  if (event['type'] !== 'message') return String(event['type']);
  const type = event['channel_type'];
  return messageSubscription[type === 'group' ? 'private' : type === 'im' ? 'im' : 'channel'];
}

/** Wraps an event as the Events API does and hands it to the courier. */
export function sendEvent(ctx: Context, event: JsonObject): void {
  if (!ctx.subscriptions.has(subscriptionOf(event))) return;
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
