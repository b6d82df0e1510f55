import { z } from 'zod';
import type { Context } from '../context.js';
import { wireMessage } from '../deliver/wire-message.js';
import { SlackError } from '../refusals.js';
import { channelMessages, findMessage, type StoredMessage, threadMessages } from '../state/messages.js';
import { FormBoolean, type Method, method, OptionalText, type Reply } from './method.js';
import { pageArguments, pageOf } from './paging.js';
import { joinedChannel } from './places.js';

const History = z.looseObject({
  channel: z.string().min(1),
  oldest: OptionalText,
  latest: OptionalText,
  inclusive: FormBoolean,
  include_all_metadata: FormBoolean,
  ...pageArguments,
});
type History = z.output<typeof History>;

const scopes = ['channels:history', 'groups:history', 'im:history'];

function history(ctx: Context, args: History): Reply {
  const channel = joinedChannel(ctx, args.channel);
  const newestFirst = within(channelMessages(ctx.db, channel.id, null), args).reverse();
  return shown(ctx, newestFirst, args);
}

const Replies = History.extend({ ts: z.string().min(1) });

/** The parent first, then replies from the oldest; the parent is shown whatever the time limits say. */
function replies(ctx: Context, args: z.output<typeof Replies>): Reply {
  const channel = joinedChannel(ctx, args.channel);
  const asked = findMessage(ctx.db, channel.id, args.ts);
  if (asked === undefined || asked.ephemeralTo !== null) throw new SlackError('thread_not_found');
  const [parent, ...rest] = threadMessages(ctx.db, channel.id, args.ts, null);
  return shown(ctx, parent === undefined ? [] : [parent, ...within(rest, args)], args);
}

function within(messages: readonly StoredMessage[], args: History): StoredMessage[] {
  const { oldest = '', latest = '9', inclusive = false } = args;
  return messages.filter((message) =>
    inclusive ? message.ts >= oldest && message.ts <= latest : message.ts > oldest && message.ts < latest,
  );
}

function shown(ctx: Context, messages: readonly StoredMessage[], args: History): Reply {
  const { page, more, response_metadata } = pageOf(messages, args, 100);
  return {
    messages: page.map((message) =>
      wireMessage(ctx, message, { full: true, metadata: args.include_all_metadata === true }),
    ),
    has_more: more,
    response_metadata,
  };
}

/** Reading what was said. */
export const historyMethods: readonly Method[] = [
  method('conversations.history', scopes, History, history),
  method('conversations.replies', scopes, Replies, replies),
];
