import { z } from 'zod';
import type { FormState, Tap, Typed } from '../../commands/common/intake.js';
import { decodeText } from './slack-event.js';

/* What Slack sends of commands, taps and forms, as far as the bot reads it. Clients can be old or forged: nothing is trusted unread. */

export const CommandPayload = z.object({
  team_id: z.string().min(1),
  channel_id: z.string().min(1),
  user_id: z.string().min(1),
  text: z.string().default(''),
  trigger_id: z.string().min(1),
  response_url: z.string().optional(),
});

const Option = z.object({ value: z.string() });

/** One input's state, or one action: whichever of these Slack fills in. */
const INPUT = {
  type: z.string().optional(),
  value: z.string().nullish(),
  selected_option: Option.nullish(),
  selected_options: z.array(Option).nullish(),
  selected_user: z.string().nullish(),
  selected_users: z.array(z.string()).nullish(),
  selected_channel: z.string().nullish(),
  selected_date: z.string().nullish(),
  selected_time: z.string().nullish(),
  selected_date_time: z.number().nullish(),
};
const InputState = z.object(INPUT);

const ViewPayload = z.object({
  id: z.string().min(1),
  type: z.string(),
  callback_id: z.string().default(''),
  private_metadata: z.string().default(''),
  root_view_id: z.string().nullish(),
  blocks: z.array(z.looseObject({ type: z.string(), block_id: z.string().optional() })).default([]),
  state: z.object({ values: z.record(z.string(), z.record(z.string(), InputState)) }).default({ values: {} }),
});
export type ViewPayload = z.infer<typeof ViewPayload>;

const Id = z.object({ id: z.string().min(1) });
const Action = z.object({ ...INPUT, action_id: z.string() });

export const TapPayload = z.object({
  team: Id,
  user: Id,
  trigger_id: z.string().min(1).optional(),
  response_url: z.string().optional(),
  channel: Id.nullish(),
  container: z
    .object({
      message_ts: z.string().optional(),
      thread_ts: z.string().optional(),
      channel_id: z.string().optional(),
    })
    .default({}),
  message: z.object({ ts: z.string(), thread_ts: z.string().optional() }).nullish(),
  view: ViewPayload.nullish(),
  actions: z.tuple([Action]).rest(Action),
});

export const FormPayload = z.object({ team: Id, user: Id, view: ViewPayload });

export function readCommand(command: z.infer<typeof CommandPayload>): Typed {
  return {
    who: { workspace: command.team_id, person: command.user_id },
    channel: command.channel_id,
    threadTs: null,
    words: decodeText(command.text).trim(),
    by: 'slash',
  };
}

/** The button or select that was used; what follows `#` in an action id only tells equal buttons apart. */
export function readTap(payload: z.infer<typeof TapPayload>): Tap {
  const [action] = payload.actions;
  const input = readInput(action);
  const selected = typeof input === 'string' ? [input] : (input ?? []);
  return {
    who: { workspace: payload.team.id, person: payload.user.id },
    action: action.action_id.split('#')[0] ?? action.action_id,
    value: selected[0] ?? '',
    selected: action.type === 'button' ? [] : selected,
    channel: payload.channel?.id ?? payload.container.channel_id ?? null,
    messageTs: payload.message?.ts ?? payload.container.message_ts ?? null,
    threadTs: payload.message?.thread_ts ?? payload.container.thread_ts ?? null,
    form: payload.view?.type === 'modal' ? readForm(payload.view) : null,
  };
}

/** A form as it stands: what was written or chosen, by the input's block id. */
export function readForm(view: ViewPayload): FormState {
  const values = new Map<string, string | readonly string[] | null>();
  for (const [block, actions] of Object.entries(view.state.values)) {
    const [state] = Object.values(actions);
    values.set(block, state ? readInput(state) : null);
  }
  return { id: view.id, callback: view.callback_id, privateMetadata: view.private_metadata, values };
}

function readInput(state: z.infer<typeof InputState>): string | readonly string[] | null {
  if (state.selected_options) return state.selected_options.map((option) => option.value);
  if (state.selected_users) return state.selected_users;
  if (typeof state.selected_date_time === 'number') return String(state.selected_date_time);
  return (
    state.value ??
    state.selected_option?.value ??
    state.selected_user ??
    state.selected_channel ??
    state.selected_date ??
    state.selected_time ??
    null
  );
}
