/** The ten select menus and the small choices (overflow, checkboxes, radio buttons). */
import { z } from 'zod';
import { limits } from './limits.js';
import { ActionId, Confirm, Option, Placeholder, PlainOption, plainText } from './objects.js';

const common = {
  action_id: ActionId,
  confirm: Confirm,
  focus_on_load: z.boolean().optional(),
};
const select = { ...common, placeholder: Placeholder };
const multi = { ...select, max_selected_items: z.number().int().min(1).optional() };

const OptionGroup = z.strictObject({
  label: plainText(limits.optionText),
  options: z.array(PlainOption).min(1).max(limits.selectOptions),
});
const staticOptions = {
  options: z.array(PlainOption).min(1).max(limits.selectOptions).optional(),
  option_groups: z.array(OptionGroup).min(1).max(limits.selectOptions).optional(),
};
const conversations = {
  default_to_current_conversation: z.boolean().optional(),
  filter: z
    .strictObject({
      include: z
        .array(z.enum(['im', 'mpim', 'private', 'public']))
        .min(1)
        .optional(),
      exclude_external_shared_channels: z.boolean().optional(),
      exclude_bot_users: z.boolean().optional(),
    })
    .optional(),
};
const respondable = { response_url_enabled: z.boolean().optional() };
const ids = z.array(z.string().min(1));

type Options = {
  readonly options?: readonly { readonly value: string }[] | undefined;
  readonly option_groups?: readonly { readonly options: readonly { readonly value: string }[] }[] | undefined;
  readonly initial_option?: { readonly value: string } | undefined;
  readonly initial_options?: readonly { readonly value: string }[] | undefined;
};

function hasOneList(element: Options): boolean {
  return (element.options === undefined) !== (element.option_groups === undefined);
}
const ONE_LIST = 'must provide either options or option_groups';

function startsWithinOptions(element: Options): boolean {
  const grouped = (element.option_groups ?? []).flatMap((group) => group.options);
  const values = new Set([...(element.options ?? []), ...grouped].map((option) => option.value));
  const initial = [
    ...(element.initial_options ?? []),
    ...(element.initial_option ? [element.initial_option] : []),
  ];
  return initial.every((option) => values.has(option.value));
}
const WITHIN_OPTIONS = 'initial option must be one of the options';

const StaticSelect = z
  .strictObject({
    type: z.literal('static_select'),
    ...select,
    ...staticOptions,
    initial_option: PlainOption.optional(),
  })
  .refine(hasOneList, ONE_LIST)
  .refine(startsWithinOptions, WITHIN_OPTIONS);

const MultiStaticSelect = z
  .strictObject({
    type: z.literal('multi_static_select'),
    ...multi,
    ...staticOptions,
    initial_options: z.array(PlainOption).min(1).optional(),
  })
  .refine(hasOneList, ONE_LIST)
  .refine(startsWithinOptions, WITHIN_OPTIONS);

export const selectElements = [
  StaticSelect,
  MultiStaticSelect,
  z.strictObject({
    type: z.literal('external_select'),
    ...select,
    initial_option: PlainOption.optional(),
    min_query_length: z.number().int().min(0).optional(),
  }),
  z.strictObject({
    type: z.literal('multi_external_select'),
    ...multi,
    initial_options: z.array(PlainOption).min(1).optional(),
    min_query_length: z.number().int().min(0).optional(),
  }),
  z.strictObject({ type: z.literal('users_select'), ...select, initial_user: z.string().optional() }),
  z.strictObject({ type: z.literal('multi_users_select'), ...multi, initial_users: ids.optional() }),
  z.strictObject({
    type: z.literal('conversations_select'),
    ...select,
    ...conversations,
    ...respondable,
    initial_conversation: z.string().optional(),
  }),
  z.strictObject({
    type: z.literal('multi_conversations_select'),
    ...multi,
    ...conversations,
    initial_conversations: ids.optional(),
  }),
  z.strictObject({
    type: z.literal('channels_select'),
    ...select,
    ...respondable,
    initial_channel: z.string().optional(),
  }),
  z.strictObject({ type: z.literal('multi_channels_select'), ...multi, initial_channels: ids.optional() }),
] as const;

export const Overflow = z.strictObject({
  type: z.literal('overflow'),
  action_id: ActionId,
  confirm: Confirm,
  options: z
    .array(PlainOption.extend({ url: z.string().min(1).max(limits.url).optional() }))
    .min(1)
    .max(limits.overflowOptions),
});

const choices = { ...common, options: z.array(Option).min(1).max(limits.choiceOptions) };

export const Checkboxes = z
  .strictObject({
    type: z.literal('checkboxes'),
    ...choices,
    initial_options: z.array(Option).min(1).optional(),
  })
  .refine(startsWithinOptions, WITHIN_OPTIONS);

export const RadioButtons = z
  .strictObject({ type: z.literal('radio_buttons'), ...choices, initial_option: Option.optional() })
  .refine(startsWithinOptions, WITHIN_OPTIONS);
