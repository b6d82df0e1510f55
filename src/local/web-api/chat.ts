import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import { wireMessage } from '../deliver/wire-message.js';
import { acceptedBlocks, postAsBot } from '../posting.js';
import { SlackError } from '../refusals.js';
import { isMember } from '../state/channels.js';
import { findPerson } from '../state/people.js';
import { chatChanges } from './chat-changes.js';
import { FormBoolean, type Method, method, OptionalText, type Reply } from './method.js';
import { joinedChannel, placeToPost, publicMessage, threadParent, visibleChannel } from './places.js';

const content = {
  text: z.string().optional(),
  markdown_text: OptionalText,
  blocks: z.unknown().optional(),
  attachments: z.unknown().optional(),
};

const PostMessage = z.looseObject({
  channel: z.string().min(1),
  ...content,
  metadata: z.unknown().optional(),
  thread_ts: OptionalText,
  reply_broadcast: FormBoolean,
});

function postMessage(ctx: Context, args: z.output<typeof PostMessage>): Reply {
  const channel = placeToPost(ctx, args.channel);
  const blocks = acceptedBlocks(ctx, args, 'post');
  const threadTs = args.thread_ts === undefined ? null : threadParent(ctx, channel.id, args.thread_ts);
  const message = postAsBot(
    ctx,
    {
      channel,
      text: args.text ?? args.markdown_text ?? '',
      threadTs,
      broadcast: threadTs !== null && args.reply_broadcast === true,
      metadata: JsonObject.safeParse(args.metadata).data ?? null,
    },
    blocks,
  );
  return { channel: channel.id, ts: message.ts, message: wireMessage(ctx, message, { metadata: true }) };
}

const PostEphemeral = z.looseObject({
  channel: z.string().min(1),
  user: z.string().min(1),
  ...content,
  thread_ts: OptionalText,
});

function postEphemeral(ctx: Context, args: z.output<typeof PostEphemeral>): Reply {
  const channel = joinedChannel(ctx, args.channel);
  if (channel.isArchived) throw new SlackError('is_archived');
  const reader = findPerson(ctx.db, args.user);
  if (reader === undefined || reader.deleted || !isMember(ctx.db, channel.id, args.user)) {
    throw new SlackError('user_not_in_channel');
  }
  const blocks = acceptedBlocks(ctx, args, 'post');
  const threadTs = args.thread_ts === undefined ? null : threadParent(ctx, channel.id, args.thread_ts);
  const text = args.text ?? args.markdown_text ?? '';
  const message = postAsBot(ctx, { channel, text, threadTs, ephemeralTo: args.user }, blocks);
  return { message_ts: message.ts };
}

const Permalink = z.looseObject({ channel: z.string().min(1), message_ts: z.string().min(1) });

/** Posting, and the link to a message; changing what is there is next door. */
export const chatMethods: readonly Method[] = [
  method('chat.postMessage', ['chat:write'], PostMessage, postMessage),
  method('chat.postEphemeral', ['chat:write'], PostEphemeral, postEphemeral),
  ...chatChanges,
  method('chat.getPermalink', [], Permalink, (ctx, args) => {
    const channel = visibleChannel(ctx, args.channel);
    const message = publicMessage(ctx, channel.id, args.message_ts);
    const thread = message.threadTs === null ? '' : `?thread_ts=${message.threadTs}&cid=${channel.id}`;
    const permalink = `${ctx.url()}/archives/${channel.id}/p${message.ts.replace('.', '')}${thread}`;
    return { channel: channel.id, permalink };
  }),
];
