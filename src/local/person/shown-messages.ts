import type { Message } from '../api-types.js';
import type { Context } from '../context.js';
import { findFile } from '../state/files.js';
import {
  channelMessages,
  findMessage,
  repliesOf,
  type StoredMessage,
  threadMessages,
} from '../state/messages.js';
import { reactionsOn } from '../state/reactions.js';
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
  const withMetadata = isBot || asked.all === '1';
  const found =
    asked.thread === undefined
      ? channelMessages(ctx.db, channel.id, asked.as)
      : threadMessages(ctx.db, channel.id, asked.thread, asked.as);
  return {
    messages: found
      .filter((message) => isInLiveThread(ctx, message))
      .map((message) => shownMessage(ctx, message, withMetadata)),
  };
}

/** Slack shows a private message in a thread only where somebody has replied already. */
function isInLiveThread(ctx: Context, message: StoredMessage): boolean {
  if (message.ephemeralTo === null || message.threadTs === null) return true;
  return repliesOf(ctx.db, message.channel, message.threadTs).count > 0;
}

/** One message as the page shows it. */
function shownMessage(ctx: Context, message: StoredMessage, withMetadata: boolean): Message {
  const replies = repliesOf(ctx.db, message.channel, message.ts);
  return {
    ts: message.ts,
    channel: message.channel,
    user: message.user,
    botId: message.botId,
    text: message.text,
    blocks: message.blocks,
    threadTs: message.threadTs,
    replyCount: replies.count,
    latestReply: replies.latest,
    edited: message.editedTs !== null,
    ...(message.state === 'tombstone' ? { deleted: true } : {}),
    ephemeral: message.ephemeralTo !== null,
    reactions: reactionsOn(ctx.db, message.channel, message.ts),
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

/** One message again, after something was done to it. */
export function shownAgain(ctx: Context, channel: string, ts: string): Message | null {
  const message = findMessage(ctx.db, channel, ts);
  return message === undefined ? null : shownMessage(ctx, message, false);
}
