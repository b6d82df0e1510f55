import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import { wireMessage } from '../deliver/wire.js';
import { acceptedBlocks, changeMessage, postAsBot, removeMessage } from '../messages.js';
import { SlackError } from '../refusals.js';
import { isMember } from '../state/channels.js';
import type { StoredMessage } from '../state/messages.js';
import { findPerson } from '../state/people.js';
import { FormBoolean, type Method, method, OptionalText, type Reply } from './method.js';
import { placeToPost, postableChannel, publicMessage, threadParent } from './places.js';

const content = { text: z.string().optional(), blocks: z.unknown().optional() };

const PostMessage = z.looseObject({
  channel: z.string().min(1),
  ...content,
  metadata: z.unknown().optional(),
  thread_ts: OptionalText,
  reply_broadcast: FormBoolean,
});

function post(ctx: Context, args: z.output<typeof PostMessage>): Reply {
  const channel = placeToPost(ctx, args.channel);
  const blocks = acceptedBlocks(ctx, args, 'post');
  const threadTs = args.thread_ts === undefined ? null : threadParent(ctx, channel.id, args.thread_ts);
  const message = postAsBot(ctx, channel, {
    text: args.text ?? '',
    blocks,
    threadTs,
    broadcast: threadTs !== null && args.reply_broadcast === true,
    metadata: JsonObject.safeParse(args.metadata).data ?? null,
  });
  return { channel: channel.id, ts: message.ts, message: wireMessage(ctx, message, { metadata: true }) };
}

const PostEphemeral = z.looseObject({
  channel: z.string().min(1),
  user: z.string().min(1),
  ...content,
  thread_ts: OptionalText,
});

function postEphemeral(ctx: Context, args: z.output<typeof PostEphemeral>): Reply {
  const channel = postableChannel(ctx, args.channel);
  const reader = findPerson(ctx.db, args.user);
  if (reader === undefined || reader.deleted || !isMember(ctx.db, channel.id, args.user)) {
    throw new SlackError('user_not_in_channel');
  }
  const blocks = acceptedBlocks(ctx, args, 'post');
  const threadTs = args.thread_ts === undefined ? null : threadParent(ctx, channel.id, args.thread_ts);
  const text = args.text ?? '';
  const message = postAsBot(ctx, channel, { text, blocks, threadTs, ephemeralTo: args.user });
  return { message_ts: message.ts };
}

const Place = z.looseObject({ channel: z.string().min(1), ts: z.string().min(1) });
const Update = Place.extend({ ...content, metadata: z.unknown().optional() });

/** Text alone takes the blocks away; metadata stays unless an empty object takes it away too. */
function update(ctx: Context, args: z.output<typeof Update>): Reply {
  const channel = postableChannel(ctx, args.channel);
  const before = publicMessage(ctx, channel.id, args.ts);
  if (before.botId !== ctx.identity.botId) throw new SlackError('cant_update_message');
  const blocks = acceptedBlocks(ctx, args, 'update');
  const after: StoredMessage = {
    ...before,
    text: args.text ?? '',
    blocks,
    metadata: updatedMetadata(before.metadata, args.metadata),
    // Slack shows no "edited" mark on messages with blocks.
    ...(blocks.length > 0 ? {} : { editedTs: ctx.newTs(), editedBy: ctx.identity.botUserId }),
  };
  changeMessage(ctx, channel, before, after);
  const message = wireMessage(ctx, after, { metadata: true });
  return { channel: channel.id, ts: after.ts, text: after.text, message };
}

function updatedMetadata(before: JsonObject | null, given: unknown): JsonObject | null {
  if (given === undefined) return before;
  const metadata = JsonObject.safeParse(given).data ?? {};
  return Object.keys(metadata).length === 0 ? null : metadata;
}

function remove(ctx: Context, args: z.output<typeof Place>): Reply {
  const channel = postableChannel(ctx, args.channel);
  const message = publicMessage(ctx, channel.id, args.ts);
  if (message.botId !== ctx.identity.botId || message.state === 'tombstone') {
    throw new SlackError('cant_delete_message');
  }
  removeMessage(ctx, channel, message);
  return { channel: channel.id, ts: message.ts };
}

/** Posting, changing and taking back the bot's own messages. */
export const chatMethods: readonly Method[] = [
  method('chat.postMessage', ['chat:write'], PostMessage, post),
  method('chat.postEphemeral', ['chat:write'], PostEphemeral, postEphemeral),
  method('chat.update', ['chat:write'], Update, update),
  method('chat.delete', ['chat:write'], Place, remove),
];
