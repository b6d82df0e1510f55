import type { InputBlock, KnownBlock, ModalView, PlainTextOption } from '@slack/types';
import { plainText } from './blocks.js';

/* Builders for forms (modals). An input's block id is its name; its action id is always ACTION. */

/** The action id of every form input: block ids tell inputs apart. */
export const INPUT = 'input';

export type Choice = { readonly label: string; readonly value: string; readonly description?: string };

/** What stands beside an input; an empty `initial` is none. */
type Look<Initial = string> = {
  readonly hint?: string;
  readonly optional?: boolean;
  readonly initial?: Initial | null | undefined;
};

/** A form with a title of at most 24 characters; `state` travels in private_metadata (an id, never data). */
export function form(
  callback: string,
  title: string,
  submit: string | null,
  blocks: readonly KnownBlock[],
  state: unknown = {},
): ModalView {
  const view: ModalView = {
    type: 'modal',
    callback_id: callback,
    title: plainText(title, 24),
    close: plainText('Back', 24),
    private_metadata: JSON.stringify(state),
    blocks: [...blocks],
  };
  if (submit !== null) view.submit = plainText(submit, 24);
  return view;
}

/** An input of any kind that Slack knows; the builders below make the usual ones. */
export function input(
  name: string,
  label: string,
  element: InputBlock['element'],
  look: Look<unknown> = {},
): InputBlock {
  const block: InputBlock = {
    type: 'input',
    block_id: name,
    label: plainText(label, 200),
    element,
    optional: look.optional ?? false,
  };
  if (look.hint !== undefined) block.hint = plainText(look.hint, 300);
  return block;
}

export function textInput(
  name: string,
  label: string,
  look: Look & { readonly placeholder?: string; readonly lines?: boolean; readonly limit?: number } = {},
): InputBlock {
  const element: InputBlock['element'] = {
    type: 'plain_text_input',
    action_id: INPUT,
    multiline: look.lines ?? false,
    max_length: look.limit ?? 3000,
    ...(look.initial ? { initial_value: look.initial } : {}),
    ...(look.placeholder ? { placeholder: plainText(look.placeholder, 150) } : {}),
  };
  return input(name, label, element, look);
}

function option(choice: Choice): PlainTextOption {
  return {
    text: plainText(choice.label, 75),
    value: choice.value,
    ...(choice.description ? { description: plainText(choice.description, 75) } : {}),
  };
}

/** The options of a menu, and what is chosen in it at first. */
function optionsOf(choices: readonly Choice[], most: number, initial: string | null | undefined) {
  const chosen = choices.find((choice) => choice.value === initial);
  return {
    options: choices.slice(0, most).map(option),
    ...(chosen ? { initial_option: option(chosen) } : {}),
  };
}

/** The same where several can be chosen. */
function optionsOfMany(
  choices: readonly Choice[],
  most: number,
  initial: readonly string[] | null | undefined,
) {
  const chosen = choices.filter((choice) => initial?.includes(choice.value));
  return {
    options: choices.slice(0, most).map(option),
    ...(chosen.length > 0 ? { initial_options: chosen.map(option) } : {}),
  };
}

/** One of at most 100 choices. */
export function selectInput(
  name: string,
  label: string,
  choices: readonly Choice[],
  look: Look & { readonly placeholder?: string } = {},
): InputBlock {
  const placeholder = look.placeholder ? { placeholder: plainText(look.placeholder, 150) } : {};
  const options = optionsOf(choices, 100, look.initial);
  return input(name, label, { type: 'static_select', action_id: INPUT, ...options, ...placeholder }, look);
}

/** Any of at most 100 choices. */
export function selectManyInput(
  name: string,
  label: string,
  choices: readonly Choice[],
  look: Look<readonly string[]> = {},
): InputBlock {
  const options = optionsOfMany(choices, 100, look.initial);
  return input(name, label, { type: 'multi_static_select', action_id: INPUT, ...options }, look);
}

/** One of at most 10 choices, all in sight. */
export function radioInput(
  name: string,
  label: string,
  choices: readonly Choice[],
  look: Look = {},
): InputBlock {
  const options = optionsOf(choices, 10, look.initial);
  return input(name, label, { type: 'radio_buttons', action_id: INPUT, ...options }, look);
}

/** Any of at most 10 choices. */
export function checkInput(
  name: string,
  label: string,
  choices: readonly Choice[],
  look: Look<readonly string[]> = {},
): InputBlock {
  const options = optionsOfMany(choices, 10, look.initial);
  return input(name, label, { type: 'checkboxes', action_id: INPUT, ...options }, look);
}

export function dateInput(name: string, label: string, look: Look = {}): InputBlock {
  const initial = look.initial ? { initial_date: look.initial } : {};
  return input(name, label, { type: 'datepicker', action_id: INPUT, ...initial }, look);
}

export function timeInput(name: string, label: string, look: Look = {}): InputBlock {
  const initial = look.initial ? { initial_time: look.initial } : {};
  return input(name, label, { type: 'timepicker', action_id: INPUT, ...initial }, look);
}

export function personInput(name: string, label: string, look: Look = {}): InputBlock {
  const initial = look.initial ? { initial_user: look.initial } : {};
  return input(name, label, { type: 'users_select', action_id: INPUT, ...initial }, look);
}

export function channelInput(name: string, label: string, look: Look = {}): InputBlock {
  const initial = look.initial ? { initial_channel: look.initial } : {};
  return input(name, label, { type: 'channels_select', action_id: INPUT, ...initial }, look);
}

export function peopleInput(name: string, label: string, look: Look<readonly string[]> = {}): InputBlock {
  const initial = look.initial && look.initial.length > 0 ? { initial_users: [...look.initial] } : {};
  return input(name, label, { type: 'multi_users_select', action_id: INPUT, ...initial }, look);
}
