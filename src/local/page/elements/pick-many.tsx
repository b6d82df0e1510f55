import { h } from '../vendor/preact.js';
import { plainWords } from '../views/words.js';
import { choose, currentList, currentText, type FieldProps } from './field.js';
import { groupsOf } from './offers.js';

function toggled(chosen: readonly string[], value: string, on: boolean): string[] {
  return on ? [...chosen, value] : chosen.filter((one) => one !== value);
}

/** Checkboxes, one large row each. */
export function Checkboxes(props: FieldProps) {
  const chosen = currentList(props);
  return (
    <fieldset
      class="choices"
      id={props.inputId}
      aria-labelledby={props.labelledBy}
      aria-describedby={props.describedBy}
    >
      {groupsOf(props.element, props.spot).map(({ heading, offers }) => [
        heading === null ? null : <p class="choices-heading">{heading}</p>,
        ...offers.map((offer) => (
          <label class="choice" key={offer.value}>
            <input
              type="checkbox"
              checked={chosen.includes(offer.value)}
              onChange={(event) => choose(props, toggled(chosen, offer.value, event.currentTarget.checked))}
            />
            <span>
              {plainWords({ text: offer.label })}
              {offer.description === undefined ? null : <small>{offer.description}</small>}
            </span>
          </label>
        )),
      ])}
    </fieldset>
  );
}

/** One of several, one large row each. */
export function RadioButtons(props: FieldProps) {
  const chosen = currentText(props);
  return (
    <fieldset
      class="choices"
      id={props.inputId}
      aria-labelledby={props.labelledBy}
      aria-describedby={props.describedBy}
    >
      {groupsOf(props.element, props.spot)
        .flatMap(({ offers }) => offers)
        .map((offer) => (
          <label class="choice" key={offer.value}>
            <input
              type="radio"
              name={props.inputId}
              checked={chosen === offer.value}
              onChange={() => choose(props, offer.value)}
            />
            <span>
              {plainWords({ text: offer.label })}
              {offer.description === undefined ? null : <small>{offer.description}</small>}
            </span>
          </label>
        ))}
    </fieldset>
  );
}

/** A select of several: what is chosen in one line, the rows behind a tap. */
export function PickMany(props: FieldProps) {
  const chosen = currentList(props);
  const offers = groupsOf(props.element, props.spot).flatMap((group) => group.offers);
  const names = chosen.map((value) => offers.find((offer) => offer.value === value)?.label ?? value);
  const chosenId = `${props.inputId}-chosen`;
  const placeholder = 'placeholder' in props.element ? props.element.placeholder?.text : undefined;
  return (
    <details class="many">
      <summary
        class="line"
        aria-labelledby={props.labelledBy === undefined ? undefined : `${props.labelledBy} ${chosenId}`}
        aria-describedby={props.describedBy}
      >
        <span id={chosenId} class={names.length === 0 ? 'faint' : ''}>
          {names.length === 0
            ? (placeholder ?? 'Choose…')
            : names.map((name) => plainWords({ text: name })).join(', ')}
        </span>
      </summary>
      <Checkboxes {...props} />
    </details>
  );
}
