import type { z } from 'zod';
import type { FormValues, JsonObject, Picked, ShortcutRequest, TapAnswer, TapRequest } from '../api-types.js';
import type { Context } from '../context.js';
import { interact, newResponseUrl, payloadChannelName, tapAnswer } from '../deliver/interactions.js';
import { wireMessage, wireView } from '../deliver/wire.js';
import { holdsValue, listOf, optionsOf, stateValue, stateValues, withValues } from '../forms/fields.js';
import { rewriteView } from '../forms/open-views.js';
import { RefusedAction } from '../refusals.js';
import { findView, saveMessageInput } from '../state/views.js';
import { actingPerson, elementAt, readableChannel, type Surface, seenMessage, surfaceOf } from './acting.js';

/** A person taps a button or picks something; answers once the bot has acknowledged it. */
export async function tap(ctx: Context, request: TapRequest): Promise<TapAnswer> {
  const person = actingPerson(ctx, request.as);
  const surface = surfaceOf(ctx, request);
  const { element, blockId } = elementAt(surface, request.action);
  const picked = pickedBy(element, request.action);
  const actionTs = ctx.newTs();
  const isPick = holdsValue(element);
  const typed = isPick
    ? withValues(surface.typed, { [blockId]: { [request.action.actionId]: picked } })
    : surface.typed;
  if (isPick && surface.in === 'view') rewriteView(ctx, { ...surface.view, typed });
  if (isPick && surface.in === 'message') saveMessageInput(ctx.db, person.id, surface.message, typed);
  const { confirm: _confirm, options: _options, option_groups: _groups, ...shown } = element;
  const action = {
    ...shown,
    block_id: blockId,
    action_ts: actionTs,
    ...(isPick ? stateValue(element, picked) : {}),
  };
  const place = placeOf(ctx, person.id, surface, typed);
  return tapAnswer(await interact(ctx, 'block_actions', person, { ...place, actions: [action] }));
}

function pickedBy(element: JsonObject, action: TapRequest['action']): Picked {
  const picked = action.selected ?? action.value ?? null;
  const values = new Set(optionsOf(element).map((option) => option['value']));
  const unknown = values.size === 0 ? undefined : listOf(picked).find((value) => !values.has(value));
  if (unknown !== undefined) {
    throw new RefusedAction('option_not_found', `There is no option with the value "${unknown}" there.`);
  }
  return picked;
}

function placeOf(ctx: Context, person: string, surface: Surface, typed: FormValues): JsonObject {
  if (surface.in === 'view') {
    const view = findView(ctx.db, surface.view.id) ?? surface.view;
    return { container: { type: 'view', view_id: view.id }, view: wireView(ctx.identity, view) };
  }
  const { message, channel } = surface;
  return {
    container: {
      type: 'message',
      message_ts: message.ts,
      channel_id: channel.id,
      is_ephemeral: message.ephemeralTo !== null,
      ...(message.threadTs === null ? {} : { thread_ts: message.threadTs }),
    },
    channel: { id: channel.id, name: payloadChannelName(channel) },
    // Slack sends no message along when it was for one person alone.
    ...(message.ephemeralTo === null ? { message: wireMessage(ctx, message, { metadata: true }) } : {}),
    state: { values: stateValues(message.blocks, typed) },
    response_url: newResponseUrl(ctx, person, channel.id),
  };
}

/** A person picks a shortcut, on a message or from anywhere. */
export async function shortcut(ctx: Context, request: z.infer<typeof ShortcutRequest>): Promise<TapAnswer> {
  const person = actingPerson(ctx, request.as);
  const common = { callback_id: request.callbackId, action_ts: ctx.newTs() };
  if (request.message === undefined) return tapAnswer(await interact(ctx, 'shortcut', person, common));
  const channel = readableChannel(ctx, request.message.channel, person.id);
  const message = seenMessage(ctx, channel.id, request.message.ts, person.id);
  if (message.ephemeralTo !== null) {
    throw new RefusedAction('ephemeral_message', 'A message that only you can see has no shortcuts.');
  }
  const outcome = await interact(ctx, 'message_action', person, {
    ...common,
    message_ts: message.ts,
    message: wireMessage(ctx, message),
    channel: { id: channel.id, name: payloadChannelName(channel) },
    response_url: newResponseUrl(ctx, person.id, channel.id),
  });
  return tapAnswer(outcome);
}
