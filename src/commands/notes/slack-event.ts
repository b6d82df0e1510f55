import { z } from 'zod';

/* The parts of Slack's events that are used, checked where they come in. */

const Edited = z.object({ ts: z.string() });

const Inner = z.object({
  user: z.string().optional(),
  bot_id: z.string().optional(),
  subtype: z.string().optional(),
  text: z.string().optional(),
  ts: z.string(),
  thread_ts: z.string().optional(),
  edited: Edited.optional(),
});

const MessageEvent = Inner.extend({
  type: z.literal('message'),
  channel: z.string(),
  channel_type: z.string().optional(),
  event_ts: z.string().optional(),
  deleted_ts: z.string().optional(),
  message: Inner.optional(),
  previous_message: Inner.optional(),
});
export type MessageEvent = z.output<typeof MessageEvent>;

const MentionEvent = Inner.extend({ type: z.literal('app_mention'), channel: z.string(), user: z.string() });

export type MentionEvent = z.output<typeof MentionEvent>;

const HomeOpenedEvent = z.object({
  type: z.literal('app_home_opened'),
  user: z.string(),
  tab: z.string().optional(),
});

const JoinedEvent = z.object({
  type: z.literal('member_joined_channel'),
  user: z.string(),
  channel: z.string(),
});

const SlackEvent = z.discriminatedUnion('type', [MessageEvent, MentionEvent, HomeOpenedEvent, JoinedEvent]);
type SlackEvent = z.output<typeof SlackEvent>;

const Envelope = z.object({
  event: SlackEvent,
  authorizations: z.array(z.object({ user_id: z.string() })).optional(),
});

export type SlackEnvelope = {
  readonly event: SlackEvent /** The bot's own user id, where Slack says it. */;
  readonly botUser: string | null;
};

/** The event in Slack's envelope, or null when it is of a kind the bot has no use for. */
export function readEnvelope(body: unknown): SlackEnvelope | null {
  const parsed = Envelope.safeParse(body);
  if (!parsed.success) return null;
  return { event: parsed.data.event, botUser: parsed.data.authorizations?.[0]?.user_id ?? null };
}

/** Subtypes of messages that people write; everything else is Slack talking. */
const WRITTEN = new Set(['file_share', 'thread_broadcast', 'me_message']);

/** What a message event means for notes: words written, words changed, or words taken back. */
export type MessageChange =
  | {
      readonly kind: 'written';
      readonly ts: string;
      readonly threadTs: string | null;
      readonly user: string;
      readonly text: string;
      readonly editedTs: string | null;
    }
  | { readonly kind: 'deleted'; readonly ts: string; readonly threadTs: string | null };

/** Reads a message event as a change to one message of a person; null for Slack's own talk and bots. */
export function messageChange(event: MessageEvent): MessageChange | null {
  if (event.subtype === 'message_deleted') {
    const ts = event.deleted_ts ?? event.previous_message?.ts;
    return ts === undefined
      ? null
      : { kind: 'deleted', ts, threadTs: event.previous_message?.thread_ts ?? null };
  }
  if (event.subtype === 'message_changed') return changed(event);
  if (event.subtype !== undefined && !WRITTEN.has(event.subtype)) return null;
  if (event.bot_id !== undefined || event.user === undefined) return null;
  return {
    kind: 'written',
    ts: event.ts,
    threadTs: event.thread_ts ?? null,
    user: event.user,
    text: event.text ?? '',
    editedTs: event.edited?.ts ?? null,
  };
}

function changed(event: MessageEvent): MessageChange | null {
  const message = event.message;
  if (!message || message.bot_id !== undefined) return null;
  if (message.subtype === 'tombstone')
    return { kind: 'deleted', ts: message.ts, threadTs: message.thread_ts ?? null };
  // A link preview or a language guess comes as a change too, but changes no words.
  if (
    message.user === undefined ||
    (message.edited === undefined && message.text === event.previous_message?.text)
  )
    return null;
  const editedTs = message.edited?.ts ?? event.event_ts ?? event.ts;
  return {
    kind: 'written',
    ts: message.ts,
    threadTs: message.thread_ts ?? null,
    user: message.user,
    text: message.text ?? '',
    editedTs,
  };
}
