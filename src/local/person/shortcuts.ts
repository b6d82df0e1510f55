import { z } from 'zod';
import { JsonObject, type OptionsRequest, type ShortcutRequest, type TapAnswer } from '../api-types.js';
import { objectsIn } from '../block-kit/walk.js';
import type { Context } from '../context.js';
import { interaction, newResponseUrl, payloadChannelName } from '../deliver/payloads.js';
import { wireMessage } from '../deliver/wire-message.js';
import { wireView } from '../forms/wire-view.js';
import { parsedJson } from '../parsed-json.js';
import { RefusedAction } from '../refusals.js';
import { actingPerson, readableChannel, seenMessage } from './acting.js';
import { elementAt, surfaceOf } from './found-elements.js';

/** A person picks a shortcut, on a message or from anywhere. */
export async function shortcut(ctx: Context, request: z.infer<typeof ShortcutRequest>): Promise<TapAnswer> {
  const person = actingPerson(ctx, request.as);
  const kind = request.message === undefined ? 'shortcut' : 'message_action';
  const onMessage = request.message === undefined ? {} : messageParts(ctx, person.id, request.message);
  const outcome = await ctx.activity.during(() =>
    ctx.postman.deliver({
      kind: 'interactive',
      body: {
        ...interaction(ctx, kind, person),
        callback_id: request.callbackId,
        action_ts: ctx.newTs(),
        ...onMessage,
      },
    }),
  );
  const error = outcome.failure === 'http_timeout' ? 'operation_timeout' : outcome.failure;
  return { ok: error === null, status: outcome.status, ...(error === null ? {} : { error }) };
}

function messageParts(
  ctx: Context,
  person: string,
  place: { readonly channel: string; readonly ts: string },
): JsonObject {
  const channel = readableChannel(ctx, place.channel, person);
  const message = seenMessage(ctx, channel.id, place.ts, person);
  if (message.ephemeralTo !== null) {
    throw new RefusedAction('ephemeral_message', 'A message that only you can see has no shortcuts.');
  }
  return {
    message_ts: message.ts,
    message: wireMessage(ctx, message),
    channel: { id: channel.id, name: payloadChannelName(channel) },
    response_url: newResponseUrl(ctx, person, channel.id, message.ts),
  };
}

const Options = z.looseObject({
  options: z.array(JsonObject).max(100).optional(),
  option_groups: z
    .array(z.looseObject({ options: z.array(JsonObject).max(100) }))
    .max(100)
    .optional(),
});

/** Asks the bot for the options of an external select; an answer that is late or bad is an empty list. */
export async function loadOptions(
  ctx: Context,
  request: z.infer<typeof OptionsRequest>,
): Promise<{ readonly options: readonly JsonObject[] }> {
  const person = actingPerson(ctx, request.as);
  const surface = surfaceOf(ctx, request);
  const { element, blockId } = elementAt(surface, request.action);
  const place: JsonObject =
    surface.in === 'view'
      ? { container: { type: 'view', view_id: surface.view.id }, view: wireView(ctx.identity, surface.view) }
      : {
          container: { type: 'message', message_ts: surface.message.ts, channel_id: surface.message.channel },
          channel: { id: surface.message.channel },
        };
  const { trigger_id: _trigger, ...common } = interaction(ctx, 'block_suggestion', person);
  const outcome = await ctx.activity.during(() =>
    ctx.postman.deliver({
      kind: 'interactive',
      body: {
        ...common,
        ...place,
        action_id: String(element['action_id']),
        block_id: blockId,
        value: request.query,
      },
    }),
  );
  const answer = outcome.failure === null ? parsedJson(outcome.body, Options) : undefined;
  const grouped = (answer?.option_groups ?? []).flatMap((group) => objectsIn(group.options));
  return { options: [...(answer?.options ?? []), ...grouped] };
}
