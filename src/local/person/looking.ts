/** What a person sees: messages, their direct messages with the bot, open forms, the home tab. */
import type { z } from 'zod';
import type { Channel, HomeOpenedRequest, Message, MessageRequest, OpenViews, View } from '../api-types.js';
import type { Context } from '../context.js';
import { sendEvent } from '../deliver/events.js';
import { wireView } from '../deliver/wire.js';
import { directChannel } from '../state/channels.js';
import { findFile } from '../state/files.js';
import {
  channelMessages,
  markRead,
  reactionsOn,
  repliesOf,
  type StoredMessage,
  threadMessages,
} from '../state/messages.js';
import { findHome, openModals } from '../state/views.js';
import { actingPerson, readableChannel } from './acting.js';

type Asked = {
  readonly as: string;
  readonly channel: string;
  readonly thread?: string | undefined;
  /** Metadata too, which people do not see. */
  readonly all?: string | undefined;
};

/** What a person sees in a channel or a thread, oldest first. */
export function shownMessages(ctx: Context, asked: Asked): { readonly messages: Message[] } {
  const isBot = asked.as === ctx.identity.botUserId;
  if (!isBot) actingPerson(ctx, asked.as);
  const channel = readableChannel(ctx, asked.channel, asked.as);
  const found =
    asked.thread === undefined
      ? channelMessages(ctx.db, channel.id, asked.as)
      : threadMessages(ctx.db, channel.id, asked.thread, asked.as);
  return {
    messages: found
      .filter((message) => isInLiveThread(ctx, message))
      .map((message) => shownMessage(ctx, message, isBot || asked.all === '1')),
  };
}

/** Slack shows a private message in a thread only where somebody has replied already. */
function isInLiveThread(ctx: Context, message: StoredMessage): boolean {
  if (message.ephemeralTo === null || message.threadTs === null) return true;
  return repliesOf(ctx.db, message.channel, message.threadTs).count > 0;
}

/** One message as the page shows it. */
export function shownMessage(ctx: Context, message: StoredMessage, withMetadata = false): Message {
  const { ts, channel, person, botId, text, blocks, threadTs } = message;
  const replies = repliesOf(ctx.db, channel, ts);
  return {
    ts,
    channel,
    user: person,
    botId,
    text,
    blocks,
    threadTs,
    replyCount: replies.count,
    latestReply: replies.latest,
    edited: message.editedTs !== null,
    ...(message.state === 'tombstone' ? { deleted: true } : {}),
    ephemeral: message.ephemeralTo !== null,
    reactions: reactionsOn(ctx.db, channel, ts),
    files: message.files.flatMap((id) => shownFile(ctx, id)),
    metadata: withMetadata ? message.metadata : null,
  };
}

function shownFile(ctx: Context, id: string): Message['files'] {
  const file = findFile(ctx.db, id);
  if (file === undefined) return [];
  const { title, name, mimetype } = file;
  return [{ id, title, name, mimetype, url: `/local/files/${id}` }];
}

export function read(ctx: Context, request: z.infer<typeof MessageRequest>): object {
  const person = actingPerson(ctx, request.as);
  markRead(ctx.db, person.id, readableChannel(ctx, request.channel, person.id).id, request.ts);
  return {};
}

/** The direct messages of a person and the bot, made when missing. */
export function directMessages(ctx: Context, as: string): { readonly channel: Channel } {
  const person = actingPerson(ctx, as);
  return { channel: ctx.db.transaction(() => directChannel(ctx.db, person.id, ctx.identity.botUserId))() };
}

/** A person opens the app: its home tab or its messages. */
export function openHome(ctx: Context, request: z.infer<typeof HomeOpenedRequest>): object {
  const { channel } = directMessages(ctx, request.as);
  const home = findHome(ctx.db, request.as);
  ctx.db.transaction(() =>
    sendEvent(ctx, {
      type: 'app_home_opened',
      user: request.as,
      channel: channel.id,
      tab: request.tab,
      ...(request.tab === 'home' && home !== undefined ? { view: wireView(ctx.identity, home) } : {}),
      event_ts: ctx.newTs(),
    }),
  )();
  ctx.events.wake();
  return {};
}

export function homeTab(ctx: Context, as: string): { readonly view: View | null } {
  const home = findHome(ctx.db, actingPerson(ctx, as).id);
  return { view: home === undefined ? null : wireView(ctx.identity, home) };
}

/** The forms open before a person, and what is wrong with the top one. */
export function openForms(ctx: Context, as: string): OpenViews {
  const stack = openModals(ctx.db, actingPerson(ctx, as).id);
  const top = stack.at(-1);
  return {
    stack: stack.map((view) => wireView(ctx.identity, view)),
    errors: top?.errors ?? null,
    notice: top?.notice ?? null,
  };
}
