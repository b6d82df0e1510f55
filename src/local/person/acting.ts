/** Who acts, where, and on what: anything that Slack's client would not let a person do is refused. */
import type { Channel, FormValues, JsonObject, Person, TapRequest } from '../api-types.js';
import { elementsOf } from '../block-kit/walk.js';
import type { Context } from '../context.js';
import { objectsIn, textIn } from '../json.js';
import { RefusedAction } from '../refusals.js';
import { findChannel } from '../state/channels.js';
import { findMessage, type StoredMessage } from '../state/messages.js';
import { findPerson } from '../state/people.js';
import { findView, messageInput, type StoredView } from '../state/views.js';

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
  if (message.person !== author || message.state !== 'live') {
    throw new RefusedAction('not_own_message', 'Only a message of their own can be changed or deleted.', 403);
  }
  return message;
}

/** A view that is open before this person, or their home tab. */
export function openView(ctx: Context, person: string, id: string): StoredView {
  const view = findView(ctx.db, id);
  if (view === undefined || view.person !== person) {
    throw new RefusedAction('view_not_found', `This person has no view ${id} open.`, 404);
  }
  return view;
}

/** Where a person taps: a message, or an open form or home tab; with what they picked there so far. */
export type Surface = { readonly blocks: readonly JsonObject[]; readonly typed: FormValues } & (
  | { readonly in: 'message'; readonly channel: Channel; readonly message: StoredMessage }
  | { readonly in: 'view'; readonly view: StoredView }
);

/** The message or view a tap names, as this person has it before them. */
export function surfaceOf(ctx: Context, place: TapRequest): Surface {
  if (place.view !== undefined) {
    const view = openView(ctx, place.as, place.view.id);
    return { in: 'view', view, blocks: objectsIn(view.definition['blocks']), typed: view.typed };
  }
  if (place.message === undefined) {
    throw new RefusedAction('no_place', 'Say where: {"message":{"channel":…,"ts":…}} or {"view":{"id":…}}.');
  }
  const channel = readableChannel(ctx, place.message.channel, place.as);
  const message = seenMessage(ctx, channel.id, place.message.ts, place.as);
  const typed = messageInput(ctx.db, place.as, message);
  return { in: 'message', channel, message, blocks: message.blocks, typed };
}

/** The element that a tap names; one that is not there cannot be tapped. */
export function elementAt(
  surface: Surface,
  action: TapRequest['action'],
): { readonly element: JsonObject; readonly blockId: string } {
  for (const block of surface.blocks) {
    const blockId = textIn(block['block_id']) ?? '';
    if (block['type'] === 'input' || (action.blockId ?? blockId) !== blockId) continue;
    const element = elementsOf(block).find((one) => one['action_id'] === action.actionId);
    if (element !== undefined) return { element, blockId };
  }
  throw new RefusedAction(
    'element_not_found',
    `Nothing to tap has the action id ${action.actionId} there.`,
    404,
  );
}
