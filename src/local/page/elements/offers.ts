import { type Element, offerOf } from '../fields.js';
import { type FieldSpot, keyOf } from '../moves/forms.js';
import { getState } from '../store.js';
import type { Offer } from '../wire.js';

/** A run of options, under a heading when the bot groups them. */
export interface OfferGroup {
  readonly heading: string | null;
  readonly offers: readonly Offer[];
}

/** Everything a select, a radio group or a set of checkboxes offers. */
export function groupsOf(element: Element, spot: FieldSpot): readonly OfferGroup[] {
  switch (element.type) {
    case 'static_select':
    case 'multi_static_select':
      if (element.option_groups !== undefined) {
        return element.option_groups.map(({ label, options }) => ({
          heading: label.text,
          offers: options.map(offerOf),
        }));
      }
      return plain((element.options ?? []).map(offerOf));
    case 'radio_buttons':
    case 'checkboxes':
      return plain(element.options.map(offerOf));
    case 'users_select':
    case 'multi_users_select':
      return plain(people());
    case 'channels_select':
    case 'multi_channels_select':
      return plain(channels());
    case 'conversations_select':
    case 'multi_conversations_select':
      return plain([...channels(), ...people()]);
    case 'external_select':
      return plain(
        offered(spot, element.initial_option === undefined ? [] : [offerOf(element.initial_option)]),
      );
    case 'multi_external_select':
      return plain(offered(spot, (element.initial_options ?? []).map(offerOf)));
    default:
      return [];
  }
}

function plain(offers: readonly Offer[]): readonly OfferGroup[] {
  return [{ heading: null, offers }];
}

function people(): readonly Offer[] {
  return (getState().workspace?.people ?? [])
    .filter(({ deleted, isBot }) => !deleted && !isBot)
    .map(({ id, name, realName }) => ({ value: id, label: `${realName} (@${name})` }));
}

function channels(): readonly Offer[] {
  return (getState().workspace?.channels ?? [])
    .filter(({ kind, isArchived }) => kind !== 'im' && !isArchived)
    .map(({ id, name }) => ({ value: id, label: `#${name}` }));
}

function offered(spot: FieldSpot, initial: readonly Offer[]): readonly Offer[] {
  const found = getState().offered.get(keyOf(spot)) ?? [];
  return [...found, ...initial.filter(({ value }) => !found.some((offer) => offer.value === value))];
}
