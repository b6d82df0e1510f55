/** Buttons, choices, selects, pickers and text inputs, and which of them may stand where. */
import { z } from 'zod';
import { limits } from './limits.js';
import { Confirm, Id, ImageElement, Option, Placeholder, PlainOption, plainText } from './objects.js';

const common = { action_id: Id, confirm: Confirm };
const select = { ...common, placeholder: Placeholder };
const multi = { ...select, max_selected_items: z.number().int().min(1).optional() };

const Button = z.strictObject({
  type: z.literal('button'),
  ...common,
  text: plainText(limits.buttonText),
  value: z.string().max(limits.buttonValue).optional(),
  style: z.enum(['primary', 'danger']).optional(),
});

const OptionGroup = z.strictObject({
  label: plainText(limits.optionText),
  options: z.array(PlainOption).min(1).max(limits.selectOptions),
});
const staticOptions = {
  options: z.array(PlainOption).min(1).max(limits.selectOptions).optional(),
  option_groups: z.array(OptionGroup).min(1).max(limits.selectOptions).optional(),
};

type Offered = readonly { readonly value: string }[] | undefined;
type Options = {
  readonly options?: Offered;
  readonly option_groups?: readonly { readonly options: NonNullable<Offered> }[] | undefined;
  readonly initial_option?: { readonly value: string } | undefined;
  readonly initial_options?: Offered;
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

const selects = [
  z
    .strictObject({
      type: z.literal('static_select'),
      ...select,
      ...staticOptions,
      initial_option: PlainOption.optional(),
    })
    .refine(hasOneList, ONE_LIST)
    .refine(startsWithinOptions, WITHIN_OPTIONS),
  z
    .strictObject({
      type: z.literal('multi_static_select'),
      ...multi,
      ...staticOptions,
      initial_options: z.array(PlainOption).min(1).optional(),
    })
    .refine(hasOneList, ONE_LIST)
    .refine(startsWithinOptions, WITHIN_OPTIONS),
  z.strictObject({ type: z.literal('users_select'), ...select, initial_user: z.string().optional() }),
  z.strictObject({
    type: z.literal('multi_users_select'),
    ...multi,
    initial_users: z.array(z.string().min(1)).optional(),
  }),
  z.strictObject({
    type: z.literal('channels_select'),
    ...select,
    initial_channel: z.string().optional(),
  }),
] as const;

const choices = { ...common, options: z.array(Option).min(1).max(limits.choiceOptions) };

const pickers = [
  z
    .strictObject({
      type: z.literal('checkboxes'),
      ...choices,
      initial_options: z.array(Option).min(1).optional(),
    })
    .refine(startsWithinOptions, WITHIN_OPTIONS),
  z
    .strictObject({ type: z.literal('radio_buttons'), ...choices, initial_option: Option.optional() })
    .refine(startsWithinOptions, WITHIN_OPTIONS),
  z.strictObject({
    type: z.literal('datepicker'),
    ...select,
    initial_date: z
      .string()
      .regex(/^\d{4}-\d{2}-\d{2}$/, 'must be a date YYYY-MM-DD')
      .optional(),
  }),
  z.strictObject({
    type: z.literal('timepicker'),
    ...select,
    initial_time: z
      .string()
      .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time HH:mm')
      .optional(),
  }),
  ...selects,
] as const;

const PlainTextInput = z
  .strictObject({
    type: z.literal('plain_text_input'),
    action_id: Id,
    placeholder: Placeholder,
    multiline: z.boolean().optional(),
    min_length: z.number().int().min(0).max(limits.inputText).optional(),
    max_length: z.number().int().min(1).max(limits.inputText).optional(),
    initial_value: z.string().max(limits.inputText).optional(),
  })
  .refine((input) => (input.min_length ?? 0) <= (input.max_length ?? limits.inputText), {
    path: ['min_length'],
    message: 'must be no more than max_length',
  });

export const ActionsElement = z.discriminatedUnion('type', [Button, ...pickers]);
export const Accessory = z.discriminatedUnion('type', [Button, ImageElement, ...pickers]);
export const InputElement = z.discriminatedUnion('type', [PlainTextInput, ...pickers]);
