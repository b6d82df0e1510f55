import type { FormValues, JsonObject, Picked, TapAnswer, TapRequest } from '../api-types.js';
import type { Context } from '../context.js';
import { interaction, newResponseUrl, payloadChannelName } from '../deliver/payloads.js';
import { wireMessage } from '../deliver/wire-message.js';
import { stateValues, withValues } from '../forms/form-state.js';
import { rewriteView } from '../forms/open-views.js';
import { holdsValue, optionsOf, stateValue } from '../forms/picked-values.js';
import { wireView } from '../forms/wire-view.js';
import { RefusedAction } from '../refusals.js';
import { findChannel } from '../state/channels.js';
import { findView, saveMessageInput } from '../state/views.js';
import { actingPerson } from './acting.js';
import { elementAt, type Surface, surfaceOf } from './found-elements.js';

/** A person taps a button or picks something; answers once the bot has acknowledged it. */
export async function tap(ctx: Context, request: TapRequest): Promise<TapAnswer> {
  const person = actingPerson(ctx, request.as);
  const surface = surfaceOf(ctx, request);
  const { element, blockId } = elementAt(surface, request.action);
  const picked = pickedBy(element, request.action);
  const actionTs = ctx.newTs();
  const typed = holdsValue(element)
    ? withValues(surface.typed, { [blockId]: { [request.action.actionId]: picked } })
    : surface.typed;
  if (holdsValue(element)) keepPicked(ctx, person.id, surface, typed);
  const outcome = await ctx.activity.during(() =>
    ctx.postman.deliver({
      kind: 'interactive',
      body: {
        ...interaction(ctx, 'block_actions', person),
        ...placeOf(ctx, person.id, surface, typed),
        actions: [actionOf(element, blockId, picked, actionTs)],
      },
    }),
  );
  const error = outcome.failure === 'http_timeout' ? 'operation_timeout' : outcome.failure;
  return { ok: error === null, status: outcome.status, ...(error === null ? {} : { error }) };
}

function pickedBy(element: JsonObject, action: TapRequest['action']): Picked {
  const picked = action.selected ?? action.value ?? null;
  const values = new Set(optionsOf(element).map((option) => option['value']));
  if (values.size === 0 || picked === null) return picked;
  const chosen = typeof picked === 'string' ? [picked] : picked;
  const unknown = chosen.find((value) => !values.has(value));
  if (unknown !== undefined) {
    throw new RefusedAction('option_not_found', `There is no option with the value "${unknown}" there.`);
  }
  return picked;
}

function keepPicked(ctx: Context, person: string, surface: Surface, typed: FormValues): void {
  if (surface.in === 'view') rewriteView(ctx, { ...surface.view, typed });
  else saveMessageInput(ctx.db, person, surface.message.channel, surface.message.ts, typed);
}

function placeOf(ctx: Context, person: string, surface: Surface, typed: FormValues): JsonObject {
  if (surface.in === 'view') {
    const view = findView(ctx.db, surface.view.id) ?? surface.view;
    return { container: { type: 'view', view_id: view.id }, view: wireView(ctx.identity, view) };
  }
  const { message } = surface;
  const channel = findChannel(ctx.db, message.channel);
  return {
    container: {
      type: 'message',
      message_ts: message.ts,
      channel_id: message.channel,
      is_ephemeral: message.ephemeralTo !== null,
      ...(message.threadTs === null ? {} : { thread_ts: message.threadTs }),
    },
    channel: { id: message.channel, name: channel === undefined ? '' : payloadChannelName(channel) },
    // Slack sends no message along when it was for one person alone.
    ...(message.ephemeralTo === null ? { message: wireMessage(ctx, message, { metadata: true }) } : {}),
    state: { values: stateValues(message.blocks, typed) },
    response_url: newResponseUrl(ctx, person, message.channel, message.ts),
  };
}

function actionOf(element: JsonObject, blockId: string, picked: Picked, actionTs: string): JsonObject {
  const { confirm: _confirm, options: _options, option_groups: _groups, ...shown } = element;
  const common = { ...shown, block_id: blockId, action_ts: actionTs };
  if (holdsValue(element)) return { ...common, ...stateValue(element, picked) };
  if (element['type'] === 'overflow') {
    const option = optionsOf(element).find((one) => one['value'] === picked);
    if (option === undefined)
      throw new RefusedAction('option_not_found', 'Pick one of the options of this menu.');
    return { ...common, selected_option: option };
  }
  if (element['type'] === 'feedback_buttons')
    return { ...common, value: typeof picked === 'string' ? picked : '' };
  return common;
}
