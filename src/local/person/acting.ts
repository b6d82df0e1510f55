import type { Channel, Person } from '../api-types.js';
import type { Context } from '../context.js';
import { RefusedAction } from '../refusals.js';
import { findChannel } from '../state/channels.js';
import { findMessage, type StoredMessage } from '../state/messages.js';
import { findPerson } from '../state/people.js';

/** The person who acts: somebody who is here and is no bot. */
export function actingPerson(ctx: Context, id: string): Person {
  const person = findPerson(ctx.db, id);
  if (person === undefined) {
    throw new RefusedAction(
      'person_not_found',
      `Nobody here has the id ${id}; GET /local/state lists everyone.`,
      404,
    );
  }
  if (person.deleted)
    throw new RefusedAction('person_deleted', `${person.realName}'s account was deleted.`, 403);
  if (person.isBot)
    throw new RefusedAction('person_is_bot', 'The bot acts through its own API, not this one.', 403);
  return person;
}

/** A conversation a person may read: theirs, or any open channel. */
export function readableChannel(ctx: Context, id: string, reader: string): Channel {
  const channel = findChannel(ctx.db, id);
  if (channel === undefined || (channel.kind !== 'channel' && !channel.members.includes(reader))) {
    throw new RefusedAction('channel_not_found', `There is no channel ${id} for this person.`, 404);
  }
  return channel;
}

/** A conversation a person may write in. */
export function writableChannel(ctx: Context, id: string, writer: string): Channel {
  const channel = readableChannel(ctx, id, writer);
  if (!channel.members.includes(writer)) {
    throw new RefusedAction(
      'not_in_channel',
      `Join #${channel.name} first: POST /local/channels/${id} {"addMember":…}.`,
      403,
    );
  }
  if (channel.isArchived) throw new RefusedAction('is_archived', `#${channel.name} is archived.`, 403);
  return channel;
}

/** A message that this person can see. */
export function seenMessage(ctx: Context, channel: string, ts: string, reader: string): StoredMessage {
  const message = findMessage(ctx.db, channel, ts);
  if (message === undefined || (message.ephemeralTo !== null && message.ephemeralTo !== reader)) {
    throw new RefusedAction('message_not_found', `There is no message ${ts} in ${channel}.`, 404);
  }
  return message;
}

/** A message of this person's own, which alone they may change. */
export function ownMessage(ctx: Context, channel: string, ts: string, author: string): StoredMessage {
  const message = seenMessage(ctx, channel, ts, author);
  if (message.user !== author || message.state !== 'live') {
    throw new RefusedAction('not_own_message', 'Only a message of their own can be changed or deleted.', 403);
  }
  return message;
}
