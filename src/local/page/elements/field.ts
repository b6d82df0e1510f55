import { asList, asText, type Element, initialOf, keptValue } from '../fields.js';
import { type FieldSpot, keepTyped, keyOf, tap } from '../moves/forms.js';
import { getState } from '../store.js';
import type { Picked } from '../wire.js';

/** What every element that holds a value is given. */
export interface FieldProps<E extends Element = Element> {
  readonly spot: FieldSpot;
  readonly element: E;
  /** True when the bot hears of every change at once. */
  readonly dispatches: boolean;
  readonly inputId: string;
  /** Id of the label in sight; undefined when the element stands without one. */
  readonly labelledBy: string | undefined;
  /** Ids of the hint and the error that describe the field. */
  readonly describedBy: string | undefined;
  readonly invalid: boolean;
}

/** The value to show: what is typed here, else what the workspace keeps, else the bot's own. */
function currentValue({ spot, element }: Pick<FieldProps, 'spot' | 'element'>): Picked {
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

export function currentText(props: Pick<FieldProps, 'spot' | 'element'>): string {
  return asText(currentValue(props));
}

export function currentList(props: Pick<FieldProps, 'spot' | 'element'>): readonly string[] {
  return asList(currentValue(props));
}

/** Takes a new value: keeps it, and tells the bot where the bot wants to know. */
export function choose(props: FieldProps, picked: Picked): void {
  keepTyped(props.spot, picked);
  const confirm = 'confirm' in props.element ? props.element.confirm : undefined;
  if (props.dispatches) tap(props.spot, { selected: picked }, confirm);
}
