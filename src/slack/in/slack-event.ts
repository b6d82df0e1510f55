import { z } from 'zod';
import type { Received } from '../../commands/common/intake.js';
import { withoutEntities, withoutUnseen } from '../../kit/escape.js';
import type { Incoming } from '../../store/inbox.js';
import type { Identity } from '../runtime.js';

/* Slack's events, and messages read from a thread as the events that would have told of them, as what the bot knows: `Received`. */

const WRITTEN = {
  ts: z.string(),
  thread_ts: z.string().optional(),
  user: z.string().optional(),
  bot_id: z.string().optional(),
  subtype: z.string().optional(),
  text: z.string().optional(),
  edited: z.looseObject({ ts: z.string() }).optional(),
};
/** A message as Slack shows it in an event or in a thread. */
export const SlackMessage = z.looseObject(WRITTEN);
export type SlackMessage = z.infer<typeof SlackMessage>;

const MessageEvent = z.looseObject({
  ...WRITTEN,
  type: z.literal('message'),
  channel: z.string(),
  channel_type: z.string().optional(),
  event_ts: z.string().optional(),
  deleted_ts: z.string().optional(),
  message: SlackMessage.optional(),
  previous_message: SlackMessage.optional(),
});
type MessageEvent = z.infer<typeof MessageEvent>;

/** The envelope of an event, with whatever else Slack put into the event, but without what it put around it. */
export const EventEnvelope = z.object({
  team_id: z.string(),
  event_id: z.string().min(1),
  event: z.discriminatedUnion('type', [
    MessageEvent,
    z.looseObject({ ...WRITTEN, type: z.literal('app_mention'), channel: z.string(), user: z.string() }),
    z.looseObject({ type: z.literal('app_home_opened'), user: z.string(), tab: z.string().optional() }),
    z.looseObject({ type: z.literal('member_joined_channel'), user: z.string(), channel: z.string() }),
  ]),
});
export type EventEnvelope = z.infer<typeof EventEnvelope>;

/** The types of event the bot listens to. */
export const EVENT_TYPES = ['message', 'app_mention', 'app_home_opened', 'member_joined_channel'] as const;

/** Subtypes of messages that people write; everything else is Slack talking. */
const WRITTEN_SUBTYPES = new Set([undefined, 'file_share', 'thread_broadcast', 'me_message']);

/** What an event tells the bot; null when it is of no use: the bot's own doing, Slack's talk, no change of words. */
export function readEvent({ team_id: workspace, event }: EventEnvelope, me: Identity): Received | null {
  switch (event.type) {
    case 'app_home_opened':
      return event.tab === 'messages' ? null : { workspace, kind: event.type, person: event.user };
    case 'member_joined_channel':
      return event.user === me.botUserId ? { workspace, kind: event.type, channel: event.channel } : null;
    case 'app_mention':
      // Slack repeats a mention when its message is edited; what was asked for was done the first time.
      if (event.edited !== undefined || isOwn(event, me)) return null;
      return { workspace, kind: event.type, ...readWritten(event.channel, event, event.user, me) };
    case 'message':
      return readMessageEvent(workspace, event, me);
  }
}

function readMessageEvent(workspace: string, event: MessageEvent, me: Identity): Received | null {
  const { channel, message, previous_message: previous } = event;
  if ([event, message, previous].some((one) => one !== undefined && isOwn(one, me))) return null;
  const isDirect = event.channel_type === 'im';
  const deleted = deletedMessage(event);
  if (deleted !== null)
    return isDirect
      ? null
      : { workspace, kind: 'message_deleted', channel, ts: deleted.ts, threadTs: deleted.thread_ts ?? null };
  const isChange = event.subtype === 'message_changed';
  const written = isChange ? changedMessage(event) : event;
  if (!written || written.bot_id !== undefined || written.user === undefined) return null;
  if (isChange ? isDirect : !WRITTEN_SUBTYPES.has(event.subtype)) return null;
  const editedTs = written.edited?.ts ?? (isChange ? (event.event_ts ?? event.ts) : null);
  return {
    workspace,
    kind: isChange ? 'message_changed' : 'message',
    ...readWritten(channel, written, written.user, me),
    editedTs,
    isDirect,
  };
}

/**
 * The message that a message event says is gone. A thread's parent that was deleted while it has replies is
 * still shown to apps, as a tombstone.
 */
function deletedMessage(event: MessageEvent): Pick<SlackMessage, 'ts' | 'thread_ts'> | null {
  if (event.subtype === 'tombstone') return event;
  if (event.subtype === 'message_changed')
    return event.message?.subtype === 'tombstone' ? event.message : null;
  if (event.subtype !== 'message_deleted') return null;
  const ts = event.deleted_ts ?? event.previous_message?.ts;
  return ts === undefined ? null : { ts, thread_ts: event.previous_message?.thread_ts };
}

/** The message after a change of its words; link previews and guesses at its language come as changes too. */
function changedMessage({ message, previous_message: previous }: MessageEvent): SlackMessage | null {
  if (!message) return null;
  const isSame = previous ? previous.text === message.text : !message.edited && message.text === undefined;
  return isSame ? null : message;
}

function isOwn({ user, bot_id: bot }: Pick<SlackMessage, 'user' | 'bot_id'>, me: Identity): boolean {
  return user === me.botUserId || bot === me.botId;
}

function readWritten(channel: string, message: SlackMessage, person: string, { botUserId }: Identity) {
  const text = decodeText(message.text ?? '');
  return {
    channel,
    ts: message.ts,
    threadTs: message.thread_ts ?? null,
    person,
    text,
    words: wordsWithoutMention(text, botUserId),
  };
}

/** An event is known again for this long after it was handled. */
export const REMEMBERED_MS = 24 * 60 * 60 * 1000;
/** Slack sends an event again for an hour at most. */
const SURELY_REMEMBERED_MS = REMEMBERED_MS - 60 * 60 * 1000;

/**
 * Whether these are words said to the bot so long ago that nobody can tell any more if they were carried out:
 * a note is kept once however often it comes, but a table would be booked twice.
 */
export function isStaleCommand(received: Received, now: Date): boolean {
  const isSaidToBot = received.kind === 'app_mention' || (received.kind === 'message' && received.isDirect);
  return isSaidToBot && now.getTime() - Number(received.ts) * 1000 > SURELY_REMEMBERED_MS;
}

/** The event as it is stored: a mention by its message, so that no retry or second reading runs it twice. */
export function toInbox(envelope: EventEnvelope, received: Received, receivedAt: Date): Incoming {
  const place = 'channel' in received ? received.channel : received.person;
  const thread = 'ts' in received ? (received.threadTs ?? received.ts) : '';
  const isMention = received.kind === 'app_mention';
  return {
    workspace: received.workspace,
    eventId: isMention ? `mention:${place}:${received.ts}` : envelope.event_id,
    kind: received.kind,
    lane: `${place}:${thread}`,
    bodyJson: JSON.stringify(envelope),
    receivedAt,
  };
}

/**
 * Text as Slack sends it, turned into text as people see it: entities decoded exactly once, links and
 * broadcasts to their words, control characters gone. People and channels stay `<@U…>` and `<#C…>`, which is how commands name them.
 */
export function decodeText(text: string): string {
  const decoded = withoutUnseen(text).replace(
    /<([@#!]?)([^<>|]*)(?:\|([^<>]*))?>/g,
    (_, sigil: string, target: string, label?: string) => decodeForm(sigil, target, label),
  );
  return withoutEntities(decoded);
}

function decodeForm(sigil: string, target: string, label: string | undefined): string {
  if (sigil === '@' || sigil === '#') return `<${sigil}${target}>`;
  if (sigil === '!') return label ?? `@${target.split('^')[0] ?? ''}`;
  return label ?? target.replace(/^mailto:/, '');
}

/** The words said to somebody: the mention of them at the start (or end) taken off. */
export function wordsWithoutMention(text: string, person: string): string {
  const mention = `<@${person}(?:\\|[^>]*)?>`;
  return text
    .replaceAll('\u00a0', ' ')
    .trim()
    .replace(new RegExp(`^${mention}[\\s,:]*|\\s*${mention}$`, 'g'), '')
    .trim();
}
