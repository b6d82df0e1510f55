import { z } from 'zod';
import type { Channel } from '../api-types.js';
import type { Context } from '../context.js';
import { SlackError } from '../refusals.js';
import { allChannels, findDirectChannel } from '../state/channels.js';
import { findPerson } from '../state/people.js';
import { historyMethods } from './histories.js';
import { FormBoolean, type Method, method, OptionalText, type Reply } from './method.js';
import { pageArguments, pageOf } from './paging.js';
import { directWith, visibleChannel } from './places.js';

const scopes = ['channels:read', 'groups:read', 'im:read'];

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

const Open = z.looseObject({ users: OptionalText, channel: OptionalText, return_im: FormBoolean });

function open(ctx: Context, args: z.output<typeof Open>): Reply {
  if (args.channel !== undefined) {
    const channel = visibleChannel(ctx, args.channel);
    return { no_op: true, already_open: true, channel: openedChannel(channel, args.return_im, ctx) };
  }
  const ids = (args.users ?? '').split(',').filter((id) => id !== '');
  const [id] = ids;
  if (id === undefined) throw new SlackError('not_enough_users');
  if (ids.length > 8) throw new SlackError('too_many_users');
  // Several people would be a group conversation, whose scope the bot does not hold.
  if (ids.length > 1)
    throw new SlackError('missing_scope', { needed: 'mpim:write', provided: [...ctx.scopes].join() });
  const person = findPerson(ctx.db, id);
  if (person === undefined || person.isBot) throw new SlackError('user_not_found');
  if (person.deleted) throw new SlackError('user_disabled');
  const already = findDirectChannel(ctx.db, person.id) !== undefined;
  const channel = directWith(ctx, person);
  return {
    ...(already ? { no_op: true, already_open: true } : {}),
    channel: openedChannel(channel, args.return_im, ctx),
  };
}

function openedChannel(channel: Channel, whole: boolean | undefined, ctx: Context): Reply {
  return whole === true ? wireChannel(ctx, channel) : { id: channel.id };
}

const List = z.looseObject({ types: OptionalText, exclude_archived: FormBoolean, ...pageArguments });
const kindNames = { channel: 'public_channel', private: 'private_channel', im: 'im' } as const;

function list(ctx: Context, args: z.output<typeof List>): Reply {
  const types = new Set((args.types ?? 'public_channel').split(',').map((type) => type.trim()));
  const found = allChannels(ctx.db)
    .filter((channel) => types.has(kindNames[channel.kind]))
    .filter((channel) => channel.kind === 'channel' || channel.members.includes(ctx.identity.botUserId))
    .filter((channel) => !(args.exclude_archived === true && channel.isArchived));
  const { page, response_metadata } = pageOf(found, args, 100);
  return { channels: page.map((channel) => wireChannel(ctx, channel)), response_metadata };
}

const Named = z.looseObject({ channel: z.string().min(1) });
const Members = Named.extend(pageArguments);

/** Finding and opening conversations; reading them is next door. */
export const conversationMethods: readonly Method[] = [
  method('conversations.open', ['im:write'], Open, open),
  method('conversations.info', scopes, Named, (ctx, args) => ({
    channel: wireChannel(ctx, visibleChannel(ctx, args.channel)),
  })),
  method('conversations.members', scopes, Members, (ctx, args) => {
    const { page, response_metadata } = pageOf(visibleChannel(ctx, args.channel).members, args, 100);
    return { members: page, response_metadata };
  }),
  method('conversations.list', scopes, List, list),
  ...historyMethods,
];
