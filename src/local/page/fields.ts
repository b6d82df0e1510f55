import type { KnownBlock } from '@slack/types';
import type { Offer, Picked } from './wire.js';

export type BlockOf<T extends KnownBlock['type']> = Extract<KnownBlock, { type: T }>;

/** Anything that can be tapped, picked from or typed into. */
export type Element =
  | BlockOf<'input'>['element']
  | BlockOf<'actions'>['elements'][number]
  | NonNullable<BlockOf<'section'>['accessory']>;

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

/** What an element holds before anybody touches it: its `initial_…`, whatever the kind. */
export function initialOf(element: Element): Picked {
  return pickedUnder(element, (name) => name.startsWith('initial_')) ?? null;
}

/** What the workspace keeps of a field (an entry of Slack's state.values); undefined when it keeps nothing. */
export function keptValue(entry: unknown): Picked | undefined {
  return pickedUnder(entry, (name) => name === 'value' || name.startsWith('selected_'));
}

function pickedUnder(entry: unknown, isValue: (name: string) => boolean): Picked | undefined {
  if (typeof entry !== 'object' || entry === null) return undefined;
  const found = Object.entries(entry).find(([name]) => isValue(name));
  return found === undefined ? undefined : pickedFrom(found[1]);
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
