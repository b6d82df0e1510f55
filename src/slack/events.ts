import { z } from 'zod';
import type { Received } from '../commands/intake.js';
import type { Incoming } from '../store/inbox.js';
import type { Identity } from './identity.js';
import { afterMention, decodeText } from './text-in.js';

/*
 * Which events the bot looks at, and how the bot sees them. `Received.kind` is one of KINDS; `Received.body`
 * is Slack's inner event with the text of its messages decoded. A thread's parent that was deleted while it
 * has replies reaches Slack apps as an edit into a tombstone; here it is a `message_deleted` like any other.
 */

export const EVENT_TYPES = ['message', 'app_mention', 'app_home_opened', 'member_joined_channel'] as const;

type Kind =
  | 'message'
  | 'message_changed'
  | 'message_deleted'
  | 'app_mention'
  | 'app_home_opened'
  | 'member_joined_channel';

const InnerMessage = z.looseObject({
  ts: z.string().optional(),
  thread_ts: z.string().optional(),
  text: z.string().optional(),
  user: z.string().optional(),
  bot_id: z.string().optional(),
  subtype: z.string().optional(),
});

const InnerEvent = z.looseObject({
  type: z.string(),
  subtype: z.string().optional(),
  user: z.string().optional(),
  bot_id: z.string().optional(),
  channel: z.string().optional(),
  channel_type: z.string().optional(),
  ts: z.string().optional(),
  thread_ts: z.string().optional(),
  deleted_ts: z.string().optional(),
  text: z.string().optional(),
  message: InnerMessage.optional(),
  previous_message: InnerMessage.optional(),
});
export type InnerEvent = z.infer<typeof InnerEvent>;

export const EventEnvelope = z.object({
  team_id: z.string(),
  event_id: z.string().min(1),
  event: InnerEvent,
});
export type EventEnvelope = z.infer<typeof EventEnvelope>;

const PLAIN_SUBTYPES = new Set(['file_share', 'thread_broadcast', 'me_message']);

/** What the event is to the bot, or null when it is none of its business. */
export function kindOf(event: InnerEvent, me: Identity): Kind | null {
  if (isOwn(event, me)) return null;
  if (event.type === 'app_mention') return mentionKind(event, me);
  if (event.type === 'app_home_opened' || event.type === 'member_joined_channel') return event.type;
  if (event.type !== 'message') return null;
  if (event.subtype === 'message_deleted') return 'message_deleted';
  if (event.subtype === 'message_changed') return changedKind(event);
  const isPlain = event.subtype === undefined || PLAIN_SUBTYPES.has(event.subtype);
  if (!isPlain || event.bot_id !== undefined || event.user === undefined) return null;
  return isMentionCommand(event, me) ? null : 'message';
}

/** A mention is a command when it begins the message; in a thread any other mention is part of a note. */
function mentionKind(event: InnerEvent, me: Identity): Kind | null {
  if (event['edited'] !== undefined) return null;
  const leads = afterMention(event.text ?? '')?.mentioned === me.botUserId;
  return leads || event.thread_ts === undefined ? 'app_mention' : null;
}

/** In channels Slack sends a mention as `app_mention` too, which is the one that counts. */
function isMentionCommand(event: InnerEvent, me: Identity): boolean {
  if (event.channel_type === 'im') return false;
  return afterMention(event.text ?? '')?.mentioned === me.botUserId;
}

function changedKind(event: InnerEvent): Kind | null {
  const { message, previous_message: previous } = event;
  if (!message) return null;
  if (message.subtype === 'tombstone') return 'message_deleted';
  // Link previews and the like come as edits too; only a change of the words is one.
  return previous?.text !== undefined && previous.text === message.text ? null : 'message_changed';
}

function isOwn(event: InnerEvent, me: Identity): boolean {
  const authors = [event, event.message, event.previous_message];
  return (
    event.type !== 'member_joined_channel' &&
    authors.some((author) => author?.bot_id === me.botId || author?.user === me.botUserId)
  );
}

/** The event as the bot sees it. */
export function readEvent(kind: string, envelope: EventEnvelope, receivedAt: Date): Received {
  const { event } = envelope;
  const body: InnerEvent = { ...event };
  if (event.text !== undefined) body.text = decodeText(event.text);
  if (event.message) body.message = decoded(event.message);
  if (event.previous_message) body.previous_message = decoded(event.previous_message);
  if (kind === 'message_deleted' && event.message?.ts !== undefined) body.deleted_ts = event.message.ts;
  return { workspace: envelope.team_id, kind, body, receivedAt };
}

function decoded(message: z.infer<typeof InnerMessage>): z.infer<typeof InnerMessage> {
  return message.text === undefined ? message : { ...message, text: decodeText(message.text) };
}

/** The event as it is kept: a mention by its message, so that no retry or second reading runs it twice. */
export function keepEvent(kind: string, envelope: EventEnvelope, receivedAt: Date): Incoming {
  const { event } = envelope;
  const channel = event.channel ?? event.user ?? '';
  const message = event.message ?? event.previous_message ?? event;
  const ts = message.ts ?? event.deleted_ts ?? '';
  const thread = message.thread_ts ?? ts;
  return {
    workspace: envelope.team_id,
    eventId: kind === 'app_mention' ? `mention:${channel}:${ts}` : envelope.event_id,
    kind,
    lane: `${channel}:${thread}`,
    bodyJson: JSON.stringify(envelope),
    receivedAt,
  };
}
