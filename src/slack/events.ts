import { z } from 'zod';
import type { Received } from '../commands/common/intake.js';
import type { Incoming } from '../store/inbox.js';
import type { Identity } from './identity.js';
import { decodeText } from './text-in.js';

/*
 * Which events the bot looks at, and how the bot sees them: `Received.body` is Slack's envelope with the text
 * of its messages decoded. A thread's parent that was deleted while it has replies reaches Slack apps as an
 * edit into a tombstone; its kind here is `message_deleted` like any other deletion.
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

/** An event is known again for this long after it was handled. */
export const REMEMBERED_MS = 24 * 60 * 60 * 1000;
/** Slack sends an event again for an hour at most. */
const SURELY_REMEMBERED_MS = REMEMBERED_MS - 60 * 60 * 1000;

const PLAIN_SUBTYPES = new Set(['file_share', 'thread_broadcast', 'me_message']);

/** What the event is to the bot, or null when it is none of its business. */
export function kindOf(event: InnerEvent, me: Identity): Kind | null {
  if (isOwn(event, me)) return null;
  // Slack repeats a mention when its message is edited; what was asked for was done the first time.
  if (event.type === 'app_mention') return event['edited'] === undefined ? 'app_mention' : null;
  if (event.type === 'app_home_opened' || event.type === 'member_joined_channel') return event.type;
  if (event.type !== 'message') return null;
  if (event.subtype === 'message_deleted') return 'message_deleted';
  if (event.subtype === 'message_changed') return changedKind(event);
  const isPlain = event.subtype === undefined || PLAIN_SUBTYPES.has(event.subtype);
  if (!isPlain || event.bot_id !== undefined || event.user === undefined) return null;
  return 'message';
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

/**
 * Whether these are words said to the bot so long ago that nobody can tell any more if they were carried out:
 * a note is kept once however often it comes, but a table would be booked twice.
 */
export function isStaleCommand(kind: string, event: InnerEvent, now: Date): boolean {
  const isSaidToBot = kind === 'app_mention' || (kind === 'message' && event.channel_type === 'im');
  return isSaidToBot && now.getTime() - Number(event.ts) * 1000 > SURELY_REMEMBERED_MS;
}

/** The event as the bot sees it. */
export function readEvent(kind: string, envelope: EventEnvelope, me: Identity, receivedAt: Date): Received {
  const { event } = envelope;
  const read: InnerEvent = { ...event };
  if (event.text !== undefined) read.text = decodeText(event.text);
  if (event.message) read.message = decoded(event.message);
  if (event.previous_message) read.previous_message = decoded(event.previous_message);
  const body = { ...envelope, event: read, authorizations: [{ user_id: me.botUserId, is_bot: true }] };
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
