import { asList, asText, type Element, initialOf, keptValue, offerOf } from '../fields.js';
import { type FieldSpot, keyOf, setTyped, tap } from '../moves/forms.js';
import { getState } from '../store.js';
import type { Offer, Picked } from '../wire.js';

/** What every element that holds a value is given. */
export interface FieldProps<E extends Element = Element> {
  readonly spot: FieldSpot;
  readonly element: E;
  /** True when the bot hears of every change at once. */
  readonly dispatches: boolean;
  readonly inputId: string;
  /** Id of the label in sight; undefined when the element stands without one. */
  readonly labelledBy?: string | undefined;
  /** Ids of the hint and the error that describe the field. */
  readonly describedBy?: string | undefined;
  readonly invalid?: boolean;
}

/** What an input says of itself to those who cannot see it; `alone` is its name where no label is in sight. */
export function fieldAttributes({ inputId, labelledBy, describedBy, invalid }: FieldProps, alone: string) {
  return {
    id: inputId,
    class: 'line',
    'aria-labelledby': labelledBy,
    'aria-label': labelledBy === undefined ? alone : undefined,
    'aria-describedby': describedBy,
    'aria-invalid': invalid,
  };
}

export function placeholderOf(element: Element): string | undefined {
  return 'placeholder' in element ? element.placeholder?.text : undefined;
}

/** The value to show: what is typed here, else what the workspace keeps, else the bot's own. */
function currentValue({ spot, element }: FieldProps): Picked {
  const { typed, views, home } = getState();
  const here = typed.get(keyOf(spot));
  if (here !== undefined) return here;
  const { place } = spot;
  if (place.kind === 'view') {
    const view = views.stack.find(({ id }) => id === place.id) ?? (home?.id === place.id ? home : undefined);
    const kept = keptValue(view?.state.values[spot.blockId]?.[spot.actionId]);
    if (kept !== undefined) return kept;
  }
  return initialOf(element);
}

export function currentText(props: FieldProps): string {
  return asText(currentValue(props));
}

export function currentList(props: FieldProps): readonly string[] {
  return asList(currentValue(props));
}

/** Takes a new value: keeps it, and tells the bot where the bot wants to know. */
export function choose(props: FieldProps, picked: Picked): void {
  setTyped(props.spot, picked);
  const confirm = 'confirm' in props.element ? props.element.confirm : undefined;
  if (props.dispatches) tap(props.spot, { selected: picked }, confirm);
}

/** A run of options, under a heading when the bot groups them. */
export interface OfferGroup {
  readonly heading: string | null;
  readonly offers: readonly Offer[];
}

/** Everything a select, a radio group or a set of checkboxes offers. */
export function groupsOf(element: Element): readonly OfferGroup[] {
  if ('option_groups' in element && element.option_groups !== undefined) {
    return element.option_groups.map(({ label, options }) => ({
      heading: label.text,
      offers: options.map(offerOf),
    }));
  }
  if ('options' in element) return [{ heading: null, offers: (element.options ?? []).map(offerOf) }];
  return [{ heading: null, offers: element.type === 'channels_select' ? channels() : people() }];
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
