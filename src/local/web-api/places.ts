import type { Channel, Person } from '../api-types.js';
import type { Context } from '../context.js';
import { SlackError } from '../refusals.js';
import { directChannel, findChannel, isMember } from '../state/channels.js';
import { findMessage, type StoredMessage } from '../state/messages.js';
import { findPerson } from '../state/people.js';

/** A conversation that the bot can see; private ones it is not in do not exist for it. */
export function visibleChannel(ctx: Context, id: string): Channel {
  const channel = findChannel(ctx.db, id);
  if (channel === undefined) throw new SlackError('channel_not_found');
  if (channel.kind !== 'channel' && !channel.members.includes(ctx.identity.botUserId)) {
    throw new SlackError('channel_not_found');
  }
  return channel;
}

/** A conversation that the bot is in. */
export function joinedChannel(ctx: Context, id: string): Channel {
  const channel = visibleChannel(ctx, id);
  if (!isMember(ctx.db, channel.id, ctx.identity.botUserId)) throw new SlackError('not_in_channel');
  return channel;
}

/** A conversation that the bot may write to. */
export function postableChannel(ctx: Context, id: string): Channel {
  const channel = joinedChannel(ctx, id);
  if (channel.isArchived) throw new SlackError('is_archived');
  return channel;
}

/** Where a post goes: a conversation the bot may write to, or a person, whose direct messages are opened. */
export function placeToPost(ctx: Context, id: string): Channel {
  const channel = /^[UW]/.test(id) ? openDirect(ctx, id) : postableChannel(ctx, id);
  if (channel.with !== undefined && findPerson(ctx.db, channel.with)?.deleted !== false) {
    throw new SlackError('channel_not_found');
  }
  return channel;
}

function openDirect(ctx: Context, id: string): Channel {
  const person = findPerson(ctx.db, id);
  if (person === undefined || person.deleted || person.isBot) throw new SlackError('channel_not_found');
  return directWith(ctx, person);
}

/** The bot's direct messages with a person, made when missing. */
export function directWith(ctx: Context, person: Person): Channel {
  return ctx.db.transaction(() => directChannel(ctx.db, person.id, ctx.identity.botUserId))();
}

/** A message that everybody in the conversation sees. */
export function publicMessage(ctx: Context, channel: string, ts: string): StoredMessage {
  const message = findMessage(ctx.db, channel, ts);
  if (message === undefined || message.ephemeralTo !== null) throw new SlackError('message_not_found');
  return message;
}

/** The parent for a reply: there, and not itself a reply. */
export function threadParent(ctx: Context, channel: string, ts: string): string {
  const parent = findMessage(ctx.db, channel, ts);
  if (parent === undefined || parent.ephemeralTo !== null) throw new SlackError('thread_not_found');
  if (parent.threadTs !== null && parent.threadTs !== parent.ts)
    throw new SlackError('cannot_reply_to_message');
  return parent.ts;
}
