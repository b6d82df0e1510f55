import type { FormState, Tap } from '../commands/common/intake.js';
import type { InputState, TapPayload, ViewPayload } from './payloads.js';

/** A form as it stands: what was written or chosen, by the input's block id. */
export function readForm(view: ViewPayload): FormState {
  const values = new Map<string, string | readonly string[] | null>();
  for (const [block, actions] of Object.entries(view.state.values)) {
    const [state] = Object.values(actions);
    values.set(block, state ? readInput(state) : null);
  }
  return {
    id: view.id,
    callback: view.callback_id,
    privateMetadata: view.private_metadata,
    values,
  };
}

/** The button or select that was used; what follows `#` in an action id only tells equal buttons apart. */
export function readTap(payload: TapPayload): Tap {
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
    form: payload.view && payload.view.type === 'modal' ? readForm(payload.view) : null,
  };
}

function readInput(state: InputState): string | readonly string[] | null {
  if (state.selected_options) return state.selected_options.map((option) => option.value);
  const several = state.selected_users ?? state.selected_channels ?? state.selected_conversations;
  if (several) return several;
  if (typeof state.selected_date_time === 'number') return String(state.selected_date_time);
  return (
    state.value ??
    state.selected_option?.value ??
    state.selected_user ??
    state.selected_channel ??
    state.selected_conversation ??
    state.selected_date ??
    state.selected_time ??
    null
  );
}
