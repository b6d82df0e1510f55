import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import { removeMessage } from '../changing.js';
import type { Context } from '../context.js';
import { messageChanged } from '../deliver/message-events.js';
import { wireMessage } from '../deliver/wire-message.js';
import { acceptedBlocks, announce } from '../posting.js';
import { SlackError } from '../refusals.js';
import { rewriteMessage, type StoredMessage } from '../state/messages.js';
import { type Method, method, OptionalText, type Reply } from './method.js';
import { joinedChannel, publicMessage } from './places.js';

const Update = z.looseObject({
  channel: z.string().min(1),
  ts: z.string().min(1),
  text: z.string().optional(),
  markdown_text: OptionalText,
  blocks: z.unknown().optional(),
  attachments: z.unknown().optional(),
  metadata: z.unknown().optional(),
});

/** Text alone takes the blocks away; metadata stays unless an empty object takes it away too. */
function update(ctx: Context, args: z.output<typeof Update>): Reply {
  const channel = joinedChannel(ctx, args.channel);
  if (channel.isArchived) throw new SlackError('is_archived');
  const before = publicMessage(ctx, channel.id, args.ts);
  if (before.botId !== ctx.identity.botId) throw new SlackError('cant_update_message');
  const blocks = acceptedBlocks(ctx, args, 'update');
  const after: StoredMessage = {
    ...before,
    text: args.text ?? args.markdown_text ?? '',
    blocks,
    metadata: updatedMetadata(before.metadata, args.metadata),
    // Slack shows no "edited" mark on messages with blocks.
    ...(blocks.length > 0 ? {} : { editedTs: ctx.newTs(), editedBy: ctx.identity.botUserId }),
  };
  ctx.db.transaction(() => {
    rewriteMessage(ctx.db, after);
    messageChanged(ctx, channel, before, after);
  })();
  announce(ctx, after);
  const message = wireMessage(ctx, after, { metadata: true });
  return { channel: channel.id, ts: after.ts, text: after.text, message };
}

function updatedMetadata(before: JsonObject | null, given: unknown): JsonObject | null {
  if (given === undefined) return before;
  const metadata = JsonObject.safeParse(given).data ?? {};
  return Object.keys(metadata).length === 0 ? null : metadata;
}

const Delete = z.looseObject({ channel: z.string().min(1), ts: z.string().min(1) });

function remove(ctx: Context, args: z.output<typeof Delete>): Reply {
  const channel = joinedChannel(ctx, args.channel);
  if (channel.isArchived) throw new SlackError('is_archived');
  const message = publicMessage(ctx, channel.id, args.ts);
  if (message.botId !== ctx.identity.botId || message.state === 'tombstone') {
    throw new SlackError('cant_delete_message');
  }
  removeMessage(ctx, channel, message);
  return { channel: channel.id, ts: message.ts };
}

/** Changing and taking back the bot's own messages. */
export const chatChanges: readonly Method[] = [
  method('chat.update', ['chat:write'], Update, update),
  method('chat.delete', ['chat:write'], Delete, remove),
];
