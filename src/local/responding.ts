import { z } from 'zod';
import { JsonObject } from './api-types.js';
import type { Context } from './context.js';
import { acceptedBlocks, changeMessage, postAsBot, removeMessage } from './messages.js';
import { SlackError } from './refusals.js';
import { findChannel } from './state/channels.js';
import { findMessage, type StoredMessage } from './state/messages.js';

const Flag = z
  .union([z.boolean(), z.enum(['true', 'false']).transform((text) => text === 'true')])
  .optional();

const Response = z.looseObject({
  text: z.string().optional(),
  blocks: z.unknown().optional(),
  metadata: JsonObject.optional(),
  response_type: z.enum(['ephemeral', 'in_channel']).optional(),
  replace_original: Flag,
  delete_original: Flag,
  thread_ts: z.string().optional(),
});
type Response = z.output<typeof Response>;

/** Where a command or tap came from, and so where an answer to it goes. */
export type Origin = { readonly person: string; readonly channel: string; readonly messageTs: string | null };

/**
 * Shows what the bot answers to a command or tap: to that person alone unless `in_channel`; in the place of
 * the original, which keeps its kind, when asked. Answers the message shown, or nothing.
 */
export function respond(ctx: Context, origin: Origin, given: unknown): StoredMessage | null {
  const checked = Response.safeParse(given);
  if (!checked.success) throw new SlackError('invalid_payload');
  const response = checked.data;
  if (
    origin.messageTs !== null &&
    (response.delete_original === true || response.replace_original === true)
  ) {
    return changeOriginal(ctx, origin, origin.messageTs, response);
  }
  const channel = findChannel(ctx.db, origin.channel);
  if (channel === undefined) throw new SlackError('channel_not_found');
  if (channel.isArchived) throw new SlackError('is_archived');
  const { text = '', metadata = null, thread_ts } = response;
  const blocks = acceptedBlocks(ctx, response, 'post');
  const thread = thread_ts === undefined ? undefined : findMessage(ctx.db, channel.id, thread_ts);
  return postAsBot(ctx, channel, {
    text,
    blocks,
    metadata,
    ...(response.response_type === 'in_channel'
      ? { threadTs: thread?.ts ?? null }
      : { ephemeralTo: origin.person }),
  });
}

function changeOriginal(ctx: Context, origin: Origin, ts: string, response: Response): StoredMessage | null {
  const channel = findChannel(ctx.db, origin.channel);
  const before = findMessage(ctx.db, origin.channel, ts);
  if (channel === undefined || before === undefined) throw new SlackError('message_not_found');
  if (response.delete_original === true) {
    removeMessage(ctx, channel, before);
    return null;
  }
  const blocks = acceptedBlocks(ctx, response, 'post');
  const after: StoredMessage = { ...before, text: response.text ?? '', blocks };
  changeMessage(ctx, channel, before, after);
  return after;
}
