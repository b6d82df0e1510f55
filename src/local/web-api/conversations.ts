import { z } from 'zod';
import type { Channel } from '../api-types.js';
import type { Context } from '../context.js';
import { wireMessage } from '../deliver/wire.js';
import { SlackError } from '../refusals.js';
import { findDirectChannel } from '../state/channels.js';
import { channelMessages, findMessage, type StoredMessage, threadMessages } from '../state/messages.js';
import { findPerson } from '../state/people.js';
import {
  FormBoolean,
  type Method,
  method,
  OptionalText,
  pageArguments,
  pageOf,
  type Reply,
} from './method.js';
import { directWith, joinedChannel, visibleChannel } from './places.js';

function wireChannel(ctx: Context, channel: Channel): Reply {
  const isIm = channel.kind === 'im';
  return {
    id: channel.id,
    ...(isIm ? { user: channel.with } : { name: channel.name, name_normalized: channel.name }),
    is_channel: channel.kind === 'channel',
    is_group: channel.kind === 'private',
    is_im: isIm,
    is_mpim: false,
    is_private: channel.kind !== 'channel',
    is_archived: channel.isArchived,
    is_member: channel.members.includes(ctx.identity.botUserId),
    ...(isIm ? { is_user_deleted: findPerson(ctx.db, channel.with ?? '')?.deleted ?? true } : {}),
    num_members: channel.members.length,
    context_team_id: ctx.identity.teamId,
  };
}

const Open = z.looseObject({ users: OptionalText });

function open(ctx: Context, args: z.output<typeof Open>): Reply {
  const ids = (args.users ?? '').split(',').filter((id) => id !== '');
  const [id] = ids;
  if (id === undefined) throw new SlackError('not_enough_users');
  // Several people would be a group conversation, whose scope the bot does not hold.
  if (ids.length > 1)
    throw new SlackError('missing_scope', { needed: 'mpim:write', provided: [...ctx.scopes].join() });
  const person = findPerson(ctx.db, id);
  if (person === undefined || person.isBot) throw new SlackError('user_not_found');
  if (person.deleted) throw new SlackError('user_disabled');
  const already = findDirectChannel(ctx.db, person.id) !== undefined;
  const { id: channel } = directWith(ctx, person);
  return { ...(already ? { no_op: true, already_open: true } : {}), channel: { id: channel } };
}

const History = z.looseObject({
  channel: z.string().min(1),
  oldest: OptionalText,
  latest: OptionalText,
  inclusive: FormBoolean,
  include_all_metadata: FormBoolean,
  ...pageArguments,
});
type History = z.output<typeof History>;

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

const toRead = ['channels:history', 'groups:history', 'im:history'];
const Named = z.looseObject({ channel: z.string().min(1) });

/** Opening conversations, what they are, and what was said in them. */
export const conversationMethods: readonly Method[] = [
  method('conversations.open', ['im:write'], Open, open),
  method('conversations.info', ['channels:read', 'groups:read', 'im:read'], Named, (ctx, args) => ({
    channel: wireChannel(ctx, visibleChannel(ctx, args.channel)),
  })),
  method('conversations.history', toRead, History, history),
  method('conversations.replies', toRead, Replies, replies),
];
