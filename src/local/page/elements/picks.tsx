import { withEmoji } from '../text/emoji.js';
import { Fragment, h } from '../vendor/preact.js';
import { plainWords } from '../views/words.js';
import {
  choose,
  currentList,
  currentText,
  type FieldProps,
  fieldAttributes,
  groupsOf,
  placeholderOf,
} from './field.js';

/** A select of one value: the phone's own list, which a thumb knows. */
export function PickOne(props: FieldProps) {
  const nothing = placeholderOf(props.element) ?? 'Choose…';
  return (
    <select
      {...fieldAttributes(props, nothing)}
      value={currentText(props)}
      onChange={(event) => choose(props, event.currentTarget.value || null)}
    >
      <option value="">{nothing}</option>
      {groupsOf(props.element).map(({ heading, offers }) => {
        const options = offers.map(({ value, label }) => <option value={value}>{withEmoji(label)}</option>);
        return heading === null ? options : <optgroup label={heading}>{options}</optgroup>;
      })}
    </select>
  );
}

/** A select of several: what is chosen in one line, the rows behind a tap. */
export function PickMany(props: FieldProps) {
  const offers = groupsOf(props.element).flatMap((group) => group.offers);
  const names = currentList(props).map(
    (value) => offers.find((offer) => offer.value === value)?.label ?? value,
  );
  const chosenId = `${props.inputId}-chosen`;
  return (
    <details class="many">
      <summary
        class="line"
        aria-labelledby={props.labelledBy === undefined ? undefined : `${props.labelledBy} ${chosenId}`}
        aria-describedby={props.describedBy}
      >
        <span id={chosenId} class={names.length === 0 ? 'faint' : ''}>
          {names.length === 0 ? (placeholderOf(props.element) ?? 'Choose…') : withEmoji(names.join(', '))}
        </span>
      </summary>
      <Checkboxes {...props} />
    </details>
  );
}

/** Any of several, one large row each. */
export function Checkboxes(props: FieldProps) {
  const chosen = currentList(props);
  return (
    <Choices
      {...props}
      type="checkbox"
      chosen={chosen}
      onPick={(value, on) => choose(props, on ? [...chosen, value] : chosen.filter((one) => one !== value))}
    />
  );
}

/** One of several, one large row each. */
export function RadioButtons(props: FieldProps) {
  return (
    <Choices {...props} type="radio" chosen={currentList(props)} onPick={(value) => choose(props, value)} />
  );
}

interface ChoicesProps extends FieldProps {
  readonly type: 'checkbox' | 'radio';
  readonly chosen: readonly string[];
  readonly onPick: (value: string, on: boolean) => void;
}

function Choices({ element, inputId, labelledBy, describedBy, type, chosen, onPick }: ChoicesProps) {
  return (
    <fieldset class="choices" id={inputId} aria-labelledby={labelledBy} aria-describedby={describedBy}>
      {groupsOf(element).map(({ heading, offers }) => (
        <Fragment>
          {heading === null ? null : <p class="choices-heading">{heading}</p>}
          {offers.map(({ value, label, description }) => (
            <label class="choice" key={value}>
              <input
                type={type}
                name={type === 'radio' ? inputId : undefined}
                checked={chosen.includes(value)}
                onChange={(event) => onPick(value, event.currentTarget.checked)}
              />
              <span>
                {plainWords({ text: label })}
                {description === undefined ? null : <small>{description}</small>}
              </span>
            </label>
          ))}
        </Fragment>
      ))}
    </fieldset>
  );
}
