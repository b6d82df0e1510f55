import { z } from 'zod';

/* What Slack sends, as far as the bot reads it. Clients can be old or forged: nothing is trusted unread. */

export const CommandPayload = z.object({
  team_id: z.string().min(1),
  channel_id: z.string().min(1),
  user_id: z.string().min(1),
  text: z.string().default(''),
  trigger_id: z.string().min(1),
  response_url: z.string().optional(),
});
export type CommandPayload = z.infer<typeof CommandPayload>;

const Option = z.object({ value: z.string() });

/** One input's state, or one action: whichever of these Slack fills in. */
export const InputState = z.object({
  type: z.string().optional(),
  value: z.string().nullish(),
  selected_option: Option.nullish(),
  selected_options: z.array(Option).nullish(),
  selected_user: z.string().nullish(),
  selected_users: z.array(z.string()).nullish(),
  selected_channel: z.string().nullish(),
  selected_channels: z.array(z.string()).nullish(),
  selected_conversation: z.string().nullish(),
  selected_conversations: z.array(z.string()).nullish(),
  selected_date: z.string().nullish(),
  selected_time: z.string().nullish(),
  selected_date_time: z.number().nullish(),
});
export type InputState = z.infer<typeof InputState>;

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

const Action = InputState.extend({ action_id: z.string() });

export const TapPayload = z.object({
  team: z.object({ id: z.string().min(1) }),
  user: z.object({ id: z.string().min(1) }),
  trigger_id: z.string().min(1).optional(),
  response_url: z.string().optional(),
  channel: z.object({ id: z.string().min(1) }).nullish(),
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
export type TapPayload = z.infer<typeof TapPayload>;

export const SubmissionPayload = z.object({
  team: z.object({ id: z.string().min(1) }),
  user: z.object({ id: z.string().min(1) }),
  trigger_id: z.string().min(1).optional(),
  view: ViewPayload,
});
