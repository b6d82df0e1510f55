import type { Channel, JsonObject } from './api-types.js';
import { checkMessage } from './block-kit/check-message.js';
import { completedBlocks } from './block-kit/completed-blocks.js';
import { limits } from './block-kit/limits.js';
import { wording } from './block-kit/problems.js';
import { objectsIn } from './block-kit/walk.js';
import type { Context } from './context.js';
import { messagePosted } from './deliver/message-events.js';
import { SlackError } from './refusals.js';
import { findFile } from './state/files.js';
import { insertMessage, type StoredMessage } from './state/messages.js';

/** What the bot wants shown, however it says so (a method, a response URL, an acknowledgement). */
export type BotPost = {
  readonly channel: Channel;
  readonly text: string;
  readonly blocks?: unknown;
  readonly threadTs?: string | null;
  readonly broadcast?: boolean;
  readonly metadata?: JsonObject | null;
  readonly ephemeralTo?: string | null;
  readonly files?: readonly string[];
};

/** Refuses, as Slack does, what does not fit; answers the blocks as they are kept. */
export function acceptedBlocks(
  ctx: Context,
  payload: {
    readonly text?: unknown;
    readonly blocks?: unknown;
    readonly metadata?: unknown;
    readonly attachments?: unknown;
    readonly markdown_text?: unknown;
  },
  use: 'post' | 'update',
): JsonObject[] {
  const problems = checkMessage(payload, use);
  const [first] = problems;
  if (first !== undefined) {
    const messages = problems.filter((problem) => problem.error === first.error).map(wording);
    throw new SlackError(first.error, { errors: messages, response_metadata: { messages } });
  }
  const blocks = objectsIn(payload.blocks);
  refuseUnknownPictures(ctx, blocks);
  return completedBlocks(blocks);
}

/** Posts as the bot in one transaction, and echoes it back as the event that Slack sends. */
export function postAsBot(ctx: Context, post: BotPost, blocks: readonly JsonObject[]): StoredMessage {
  const message = ctx.db.transaction(() => {
    const kept = insertMessage(ctx.db, {
      channel: post.channel.id,
      ts: ctx.newTs(),
      user: ctx.identity.botUserId,
      botId: ctx.identity.botId,
      text: post.text.slice(0, limits.postText),
      blocks: [...blocks],
      threadTs: post.threadTs ?? null,
      broadcast: post.broadcast ?? false,
      metadata: post.metadata ?? null,
      ephemeralTo: post.ephemeralTo ?? null,
      files: [...(post.files ?? [])],
      subtype: post.files !== undefined && post.files.length > 0 ? 'file_share' : null,
    });
    if (kept.ephemeralTo === null) messagePosted(ctx, post.channel, kept);
    return kept;
  })();
  announce(ctx, message);
  return message;
}

/** After the commit: open pages hear of it, and the courier goes out. */
export function announce(ctx: Context, message: { readonly channel: string; readonly ts: string }): void {
  ctx.changes.publish({ kind: 'message', channel: message.channel, ts: message.ts });
  ctx.events.wake();
}

function refuseUnknownPictures(ctx: Context, blocks: readonly JsonObject[]): void {
  const unknown = slackFiles(blocks).filter((id) => findFile(ctx.db, id)?.state === undefined);
  if (unknown.length === 0) return;
  const messages = unknown.map((id) => `[ERROR] invalid slack file: ${id} [json-pointer:/blocks]`);
  throw new SlackError('invalid_blocks', { errors: messages, response_metadata: { messages } });
}

function slackFiles(value: unknown): readonly string[] {
  if (Array.isArray(value)) return value.flatMap(slackFiles);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, one]) => {
    if (key !== 'slack_file' || typeof one !== 'object' || one === null) return slackFiles(one);
    return 'id' in one && typeof one.id === 'string' ? [one.id] : [];
  });
}
