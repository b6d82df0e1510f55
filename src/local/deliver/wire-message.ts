import type { JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import { channelMembers } from '../state/channels.js';
import { findMessage, repliesOf, type StoredMessage } from '../state/messages.js';
import { reactionsOn } from '../state/reactions.js';
import { wireFile } from './wire-file.js';

type WireOptions = {
  /** Counts, reactions and the like, which histories show and events do not. */
  readonly full?: boolean;
  readonly metadata?: boolean;
};

/** A message as Slack's API and payloads show it. */
export function wireMessage(ctx: Context, message: StoredMessage, options: WireOptions = {}): JsonObject {
  const gone = message.state === 'tombstone';
  const byBot = message.botId !== null && !gone;
  const user = gone ? 'USLACKBOT' : message.user;
  return {
    type: 'message',
    ...(message.subtype === null ? {} : { subtype: message.subtype }),
    ...(user === null ? {} : { user }),
    ...(byBot ? { bot_id: message.botId, app_id: ctx.identity.appId } : {}),
    text: message.text,
    ts: message.ts,
    team: ctx.identity.teamId,
    ...(message.clientMsgId === null ? {} : { client_msg_id: message.clientMsgId }),
    ...(message.blocks.length === 0 ? {} : { blocks: message.blocks }),
    ...(message.threadTs === null ? {} : { thread_ts: message.threadTs, ...parentOf(ctx, message) }),
    ...(message.editedTs === null ? {} : { edited: { user: message.editedBy, ts: message.editedTs } }),
    ...(message.files.length === 0 ? {} : { files: message.files.flatMap((id) => wireFile(ctx, id) ?? []) }),
    ...(gone ? { hidden: true } : {}),
    ...(options.metadata === true && message.metadata !== null ? { metadata: message.metadata } : {}),
    ...(options.full === true ? counts(ctx, message) : {}),
  };
}

function parentOf(ctx: Context, message: StoredMessage): JsonObject {
  if (message.threadTs === null || message.threadTs === message.ts) return {};
  const parent = findMessage(ctx.db, message.channel, message.threadTs);
  return parent === undefined || parent.user === null ? {} : { parent_user_id: parent.user };
}

function counts(ctx: Context, message: StoredMessage): JsonObject {
  const replies =
    message.threadTs === null || message.threadTs === message.ts
      ? repliesOf(ctx.db, message.channel, message.ts)
      : { count: 0, latest: null };
  const reactions = reactionsOn(ctx.db, message.channel, message.ts);
  return {
    ...(replies.count === 0 || replies.latest === null
      ? {}
      : { thread_ts: message.ts, reply_count: replies.count, latest_reply: replies.latest }),
    ...(reactions.length === 0
      ? {}
      : { reactions: reactions.map((one) => ({ ...one, count: one.users.length })) }),
  };
}

/** Whether the bot is in a conversation, and so hears of it. */
export function botHears(ctx: Context, channel: string): boolean {
  return channelMembers(ctx.db, channel).includes(ctx.identity.botUserId);
}
