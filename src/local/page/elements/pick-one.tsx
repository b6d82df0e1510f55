import type { Element } from '../fields.js';
import { withEmoji } from '../text/emoji.js';
import { h } from '../vendor/preact.js';
import { choose, currentText, type FieldProps } from './field.js';
import { groupsOf, type OfferGroup } from './offers.js';

function placeholderOf(element: Element): string {
  const placeholder = 'placeholder' in element ? element.placeholder?.text : undefined;
  return placeholder ?? 'Choose…';
}

/** A select of one value: the phone's own list, which a thumb knows. */
export function PickOne(props: FieldProps) {
  const groups = groupsOf(props.element, props.spot);
  return (
    <select
      id={props.inputId}
      class="line"
      aria-labelledby={props.labelledBy}
      aria-label={props.labelledBy === undefined ? placeholderOf(props.element) : undefined}
      aria-invalid={props.invalid}
      aria-describedby={props.describedBy}
      value={currentText(props)}
      onChange={(event) => choose(props, event.currentTarget.value || null)}
    >
      <option value="">{placeholderOf(props.element)}</option>
      {groups.map(drawGroup)}
    </select>
  );
}

function drawGroup({ heading, offers }: OfferGroup) {
  const options = offers.map((offer) => <option value={offer.value}>{withEmoji(offer.label)}</option>);
  return heading === null ? options : <optgroup label={heading}>{options}</optgroup>;
}
