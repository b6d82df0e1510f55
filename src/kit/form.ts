import type { InputBlock, KnownBlock, ModalView, PlainTextOption } from '@slack/types';
import { plainText } from './blocks.js';

/* Builders for forms (modals). An input's block id is its name; its action id is always INPUT. */

/** The action id of every form input: block ids tell inputs apart. */
const INPUT = 'input';

export type Choice = { readonly label: string; readonly value: string; readonly description?: string };
type Choices = readonly Choice[];

/** What stands beside an input; an empty `initial` is none. */
type Look<Initial = string> = {
  readonly hint?: string;
  readonly optional?: boolean;
  readonly initial?: Initial | null | undefined;
};

type LookOfMany = Look<readonly string[]>;
type Placeholder = { readonly placeholder?: string };

/** A form with a title of at most 24 characters; `state` travels in private_metadata (an id, never data). */
export function form(
  callback: string,
  title: string,
  submit: string | null,
  blocks: readonly KnownBlock[],
  state: unknown = {},
): ModalView {
  return {
    type: 'modal',
    callback_id: callback,
    title: plainText(title, 24),
    close: plainText('Back', 24),
    private_metadata: JSON.stringify(state),
    blocks: [...blocks],
    ...(submit === null ? {} : { submit: plainText(submit, 24) }),
  };
}

/** An input of any kind that Slack knows; the builders below make the usual ones. */
export function input(
  name: string,
  label: string,
  element: InputBlock['element'],
  { hint, optional = false }: Look<unknown> = {},
): InputBlock {
  return {
    type: 'input',
    block_id: name,
    label: plainText(label, 200),
    element: { ...element, action_id: INPUT },
    optional,
    ...(hint === undefined ? {} : { hint: plainText(hint, 300) }),
  };
}

export function textInput(
  name: string,
  label: string,
  look: Look & Placeholder & { readonly lines?: boolean; readonly limit?: number } = {},
): InputBlock {
  const { lines: multiline = false, limit: max_length = 3000, initial } = look;
  const filled = initial ? { initial_value: initial } : {};
  const element = {
    type: 'plain_text_input',
    multiline,
    max_length,
    ...filled,
    ...placeholder(look),
  } as const;
  return input(name, label, element, look);
}

function placeholder({ placeholder: text }: Placeholder) {
  return text ? { placeholder: plainText(text, 150) } : {};
}

function option({ label, value, description }: Choice): PlainTextOption {
  return {
    text: plainText(label, 75),
    value,
    ...(description ? { description: plainText(description, 75) } : {}),
  };
}

/** At most so many choices of a menu, and what is chosen in it at first. */
function optionsOf(choices: Choices, most: number, initial: string | null | undefined) {
  const options = choices.slice(0, most).map(option);
  const chosen = choices.find(({ value }) => value === initial);
  return chosen ? { options, initial_option: option(chosen) } : { options };
}

/** The same where several can be chosen. */
function optionsOfMany(choices: Choices, most: number, initial: readonly string[] | null = []) {
  const options = choices.slice(0, most).map(option);
  const chosen = choices.filter(({ value }) => initial?.includes(value)).map(option);
  return chosen.length > 0 ? { options, initial_options: chosen } : { options };
}

/** One of at most 100 choices. */
export function selectInput(
  name: string,
  label: string,
  choices: Choices,
  look: Look & Placeholder = {},
): InputBlock {
  const options = optionsOf(choices, 100, look.initial);
  return input(name, label, { type: 'static_select', ...options, ...placeholder(look) }, look);
}

/** Any of at most 100 choices. */
export function selectManyInput(
  name: string,
  label: string,
  choices: Choices,
  look: LookOfMany = {},
): InputBlock {
  const options = optionsOfMany(choices, 100, look.initial);
  return input(name, label, { type: 'multi_static_select', ...options }, look);
}

/** One of at most 10 choices, all in sight. */
export function radioInput(name: string, label: string, choices: Choices, look: Look = {}): InputBlock {
  return input(name, label, { type: 'radio_buttons', ...optionsOf(choices, 10, look.initial) }, look);
}

/** Any of at most 10 choices. */
export function checkInput(name: string, label: string, choices: Choices, look: LookOfMany = {}): InputBlock {
  return input(name, label, { type: 'checkboxes', ...optionsOfMany(choices, 10, look.initial) }, look);
}

/** Makes the builder of an input filled in by picking; its element is told what is picked at first, if anything. */
function picker<Initial = string>(elementOf: (picked: Initial | null) => InputBlock['element']) {
  return (name: string, label: string, look: Look<Initial> = {}): InputBlock =>
    input(name, label, elementOf(look.initial || null), look);
}

export const dateInput = picker((day) => ({ type: 'datepicker', ...(day && { initial_date: day }) }));
export const timeInput = picker((time) => ({ type: 'timepicker', ...(time && { initial_time: time }) }));
export const personInput = picker((user) => ({ type: 'users_select', ...(user && { initial_user: user }) }));
export const channelInput = picker((channel) => ({
  type: 'channels_select',
  ...(channel && { initial_channel: channel }),
}));
export const peopleInput = picker<readonly string[]>((users) => ({
  type: 'multi_users_select',
  ...(users?.length && { initial_users: [...users] }),
}));
