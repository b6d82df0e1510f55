import type { KnownBlock } from '@slack/types';
import type { Offer, Picked } from './wire.js';

type InputBlock = Extract<KnownBlock, { type: 'input' }>;
type ActionsBlock = Extract<KnownBlock, { type: 'actions' }>;
type SectionBlock = Extract<KnownBlock, { type: 'section' }>;

/** Anything that can be tapped, picked from or typed into. */
export type Element =
  | InputBlock['element']
  | ActionsBlock['elements'][number]
  | NonNullable<SectionBlock['accessory']>;

interface OptionLike {
  readonly value?: string | undefined;
  readonly text: { readonly text: string };
  readonly description?: { readonly text: string } | undefined;
}

/** An option as the page draws it. */
export function offerOf(option: OptionLike): Offer {
  return {
    value: option.value ?? option.text.text,
    label: option.text.text,
    description: option.description?.text,
  };
}

/** What an element holds before anybody touches it. */
export function initialOf(element: Element): Picked {
  switch (element.type) {
    case 'plain_text_input':
    case 'number_input':
    case 'email_text_input':
    case 'url_text_input':
      return element.initial_value ?? null;
    case 'static_select':
    case 'external_select':
    case 'radio_buttons':
      return element.initial_option === undefined ? null : offerOf(element.initial_option).value;
    case 'multi_static_select':
    case 'multi_external_select':
    case 'checkboxes':
      return (element.initial_options ?? []).map((option) => offerOf(option).value);
    case 'users_select':
      return element.initial_user ?? null;
    case 'multi_users_select':
      return element.initial_users ?? [];
    case 'channels_select':
      return element.initial_channel ?? null;
    case 'multi_channels_select':
      return element.initial_channels ?? [];
    case 'conversations_select':
      return element.initial_conversation ?? null;
    case 'multi_conversations_select':
      return element.initial_conversations ?? [];
    case 'datepicker':
      return element.initial_date ?? null;
    case 'timepicker':
      return element.initial_time ?? null;
    case 'datetimepicker':
      return element.initial_date_time === undefined ? null : String(element.initial_date_time);
    default:
      return null;
  }
}

/** What the workspace keeps of a field (an entry of Slack's state.values); undefined when it keeps nothing. */
export function keptValue(entry: unknown): Picked | undefined {
  if (typeof entry !== 'object' || entry === null) return undefined;
  for (const [name, value] of Object.entries(entry)) {
    if (name === 'value' || name.startsWith('selected_')) return pickedFrom(value);
  }
  return undefined;
}

function pickedFrom(value: unknown): Picked {
  if (typeof value === 'string') return value;
  if (typeof value === 'number') return String(value);
  if (Array.isArray(value)) return value.map(pickedFrom).filter((item) => typeof item === 'string');
  if (typeof value === 'object' && value !== null && 'value' in value) return pickedFrom(value.value);
  return null;
}

/** A picked value as the one text an input shows. */
export function asText(picked: Picked): string {
  return Array.isArray(picked) ? picked.join(', ') : (picked ?? '');
}

/** A picked value as a list of chosen values. */
export function asList(picked: Picked): readonly string[] {
  if (picked === null) return [];
  return Array.isArray(picked) ? picked : [picked];
}
