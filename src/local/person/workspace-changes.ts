import type { z } from 'zod';
import type {
  ChangeChannelRequest,
  ChangePersonRequest,
  Channel,
  NewChannelRequest,
  NewPersonRequest,
  Person,
} from '../api-types.js';
import type { Context } from '../context.js';
import { tellBot } from '../deliver/events.js';
import { RefusedAction } from '../refusals.js';
import {
  addChannel,
  addMember,
  findChannel,
  findChannelByName,
  removeMember,
  setArchived,
} from '../state/channels.js';
import { addPerson, findPerson, findPersonByName, setPersonDeleted } from '../state/people.js';

/** Makes a channel; the bot is in it only when listed. */
export function makeChannel(
  ctx: Context,
  request: z.infer<typeof NewChannelRequest>,
): { readonly channel: Channel } {
  if (findChannelByName(ctx.db, request.name) !== undefined) {
    throw new RefusedAction('name_taken', `There is a channel #${request.name} already.`);
  }
  for (const id of request.members) knownPerson(ctx, id);
  const channel = ctx.db.transaction(() => addChannel(ctx.db, request.name, request.kind, request.members))();
  ctx.changes.publish({ kind: 'channels', channel: channel.id });
  return { channel };
}

/** Archives a channel or brings it back; lets somebody in or out, the bot included. */
export function changeChannel(
  ctx: Context,
  request: z.infer<typeof ChangeChannelRequest>,
  id: string,
): { readonly channel: Channel } {
  const before = knownChannel(ctx, id);
  for (const person of [request.addMember, request.removeMember])
    if (person !== undefined) knownPerson(ctx, person);
  ctx.db.transaction(() => {
    if (request.archived !== undefined) setArchived(ctx.db, id, request.archived);
    if (request.addMember !== undefined && addMember(ctx.db, id, request.addMember)) {
      tellBot(ctx, before, {
        type: 'member_joined_channel',
        user: request.addMember,
        channel: id,
        channel_type: before.kind === 'private' ? 'G' : 'C',
        team: ctx.identity.teamId,
        event_ts: ctx.newTs(),
      });
    }
    if (request.removeMember !== undefined) removeMember(ctx.db, id, request.removeMember);
  })();
  ctx.changes.publish({ kind: 'channels', channel: id });
  ctx.events.wake();
  return { channel: knownChannel(ctx, id) };
}

/** Adds a person, who is in no channel yet. */
export function makePerson(
  ctx: Context,
  request: z.infer<typeof NewPersonRequest>,
): { readonly person: Person } {
  if (findPersonByName(ctx.db, request.name) !== undefined) {
    throw new RefusedAction('name_taken', `There is somebody called @${request.name} already.`);
  }
  if (!isTimeZone(request.tz)) {
    throw new RefusedAction(
      'bad_time_zone',
      `"${request.tz}" is not a time zone; one looks like Europe/Lisbon.`,
    );
  }
  const person = ctx.db.transaction(() => addPerson(ctx.db, { ...request, isBot: false }))();
  ctx.changes.publish({ kind: 'people' });
  return { person };
}

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en-GB', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

/** Deactivates an account, or brings it back. */
export function changePerson(
  ctx: Context,
  request: z.infer<typeof ChangePersonRequest>,
  id: string,
): { readonly person: Person } {
  const person = knownPerson(ctx, id);
  if (person.isBot) throw new RefusedAction('person_is_bot', 'The bot is no account of a person.');
  setPersonDeleted(ctx.db, id, request.deleted);
  ctx.changes.publish({ kind: 'people' });
  return { person: { ...person, deleted: request.deleted } };
}

function knownPerson(ctx: Context, id: string): Person {
  const person = findPerson(ctx.db, id);
  if (person === undefined) throw new RefusedAction('person_not_found', `Nobody here has the id ${id}.`, 404);
  return person;
}

function knownChannel(ctx: Context, id: string): Channel {
  const channel = findChannel(ctx.db, id);
  if (channel === undefined) throw new RefusedAction('channel_not_found', `There is no channel ${id}.`, 404);
  return channel;
}
