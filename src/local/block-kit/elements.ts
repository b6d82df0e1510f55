/** Buttons, pickers and text inputs, and which of all elements may stand where. */
import { z } from 'zod';
import { limits } from './limits.js';
import { ActionId, Confirm, ImageElement, Placeholder, plainText, Url } from './objects.js';
import { RichText } from './rich-text.js';
import { Checkboxes, Overflow, RadioButtons, selectElements } from './selects.js';

const AccessibilityLabel = z.string().min(1).max(limits.buttonText).optional();
const focusable = { action_id: ActionId, focus_on_load: z.boolean().optional() };
const picker = { ...focusable, confirm: Confirm, placeholder: Placeholder };
const typed = {
  ...focusable,
  placeholder: Placeholder,
  dispatch_action_config: z
    .strictObject({
      trigger_actions_on: z
        .array(z.enum(['on_enter_pressed', 'on_character_entered']))
        .min(1)
        .optional(),
    })
    .optional(),
};

export const Button = z.strictObject({
  type: z.literal('button'),
  action_id: ActionId,
  confirm: Confirm,
  text: plainText(limits.buttonText),
  value: z.string().max(limits.buttonValue).optional(),
  url: Url.optional(),
  style: z.enum(['primary', 'danger']).optional(),
  accessibility_label: AccessibilityLabel,
});

const pickers = [
  z.strictObject({
    type: z.literal('datepicker'),
    ...picker,
    initial_date: z
      .string()
      .regex(/^\d{4}-\d{2}-\d{2}$/, 'must be a date YYYY-MM-DD')
      .optional(),
  }),
  z.strictObject({
    type: z.literal('timepicker'),
    ...picker,
    initial_time: z
      .string()
      .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time HH:mm')
      .optional(),
    timezone: z.string().optional(),
  }),
] as const;

const DateTimepicker = z.strictObject({
  type: z.literal('datetimepicker'),
  ...focusable,
  confirm: Confirm,
  initial_date_time: z.number().int().min(1_000_000_000).max(9_999_999_999).optional(),
});

const PlainTextInput = z
  .strictObject({
    type: z.literal('plain_text_input'),
    ...typed,
    multiline: z.boolean().optional(),
    min_length: z.number().int().min(0).max(limits.inputText).optional(),
    max_length: z.number().int().min(1).max(limits.inputText).optional(),
    initial_value: z.string().max(limits.inputText).optional(),
  })
  .refine((input) => (input.min_length ?? 0) <= (input.max_length ?? limits.inputText), {
    path: ['min_length'],
    message: 'must be no more than max_length',
  });

const NumberText = z
  .string()
  .regex(/^-?\d+(\.\d+)?$/, 'must be a number in a string')
  .optional();

const RichTextInput = z.strictObject({
  type: z.literal('rich_text_input'),
  ...typed,
  initial_value: RichText.optional(),
  min_lines: z.number().int().min(1).max(limits.richTextLines).optional(),
  max_lines: z.number().int().min(1).max(limits.richTextLines).optional(),
});

const textInputs = [
  PlainTextInput,
  RichTextInput,
  z.strictObject({ type: z.literal('email_text_input'), ...typed, initial_value: z.string().optional() }),
  z.strictObject({ type: z.literal('url_text_input'), ...typed, initial_value: z.string().optional() }),
  z.strictObject({
    type: z.literal('number_input'),
    ...typed,
    is_decimal_allowed: z.boolean(),
    initial_value: NumberText,
    min_value: NumberText,
    max_value: NumberText,
  }),
  z.strictObject({
    type: z.literal('file_input'),
    action_id: ActionId,
    filetypes: z.array(z.string()).optional(),
    max_files: z.number().int().min(1).max(limits.fileInputFiles).optional(),
  }),
] as const;

export const ActionsElement = z.discriminatedUnion('type', [
  Button,
  Overflow,
  Checkboxes,
  RadioButtons,
  DateTimepicker,
  RichTextInput,
  ...pickers,
  ...selectElements,
]);

export const Accessory = z.discriminatedUnion('type', [
  Button,
  ImageElement,
  Overflow,
  Checkboxes,
  RadioButtons,
  ...pickers,
  ...selectElements,
]);

export const InputElement = z.discriminatedUnion('type', [
  Checkboxes,
  RadioButtons,
  DateTimepicker,
  ...pickers,
  ...textInputs,
  ...selectElements,
]);

const Feedback = z.strictObject({
  text: plainText(limits.buttonText),
  accessibility_label: AccessibilityLabel,
  value: z.string().min(1).max(limits.buttonValue),
});

export const ContextActionsElement = z.discriminatedUnion('type', [
  z.strictObject({
    type: z.literal('feedback_buttons'),
    action_id: ActionId,
    positive_button: Feedback,
    negative_button: Feedback,
  }),
  z.strictObject({
    type: z.literal('icon_button'),
    action_id: ActionId,
    confirm: Confirm,
    icon: z.string().min(1),
    text: plainText(limits.buttonText),
    accessibility_label: AccessibilityLabel,
    value: z.string().max(limits.buttonValue).optional(),
    visible_to_user_ids: z.array(z.string()).optional(),
  }),
]);
