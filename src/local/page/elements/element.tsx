import type { Button, PlainTextInput } from '@slack/types';
import type { BlockOf, Element } from '../fields.js';
import { keyOf, setTyped, tap } from '../moves/forms.js';
import { getState } from '../store.js';
import { Fragment, h, type VNode } from '../vendor/preact.js';
import { plainWords } from '../views/words.js';
import type { Place } from '../wire.js';
import { choose, currentText, type FieldProps, fieldAttributes } from './field.js';
import { Checkboxes, PickMany, PickOne, RadioButtons } from './picks.js';

interface ActionElementProps {
  readonly place: Place;
  readonly blockId: string;
  readonly element: Element;
}

/** An element of a section or a row of actions: the bot hears of each change at once. */
export function ActionElement({ place, blockId, element }: ActionElementProps) {
  return drawElement({ ...spotOf(place, blockId, element), element, dispatches: true });
}

interface InputFieldProps {
  readonly block: BlockOf<'input'>;
  readonly place: Place;
  readonly error: string | undefined;
}

/** One labelled field of a form, with its hint and with what is wrong with it. */
export function InputField({ block, place, error }: InputFieldProps) {
  const { element, hint } = block;
  const { spot, inputId } = spotOf(place, block.block_id ?? '', element);
  const described = [
    ...(hint === undefined ? [] : [`${inputId}-hint`]),
    ...(error === undefined ? [] : [`${inputId}-error`]),
  ];
  return (
    <div class={error === undefined ? 'input' : 'input input-wrong'}>
      <label id={`${inputId}-label`} htmlFor={inputId}>
        {plainWords(block.label)}
        {block.optional ? <span class="faint"> (may stay empty)</span> : null}
      </label>
      {drawElement({
        spot,
        inputId,
        element,
        dispatches: false,
        labelledBy: `${inputId}-label`,
        describedBy: described.length === 0 ? undefined : described.join(' '),
        invalid: error !== undefined,
      })}
      {hint === undefined ? null : (
        <p class="hint" id={`${inputId}-hint`}>
          {plainWords(hint)}
        </p>
      )}
      {error === undefined ? null : (
        <p class="wrong" id={`${inputId}-error`}>
          {error}
        </p>
      )}
    </div>
  );
}

/** Where an element stands, and the id its label points to. */
function spotOf(place: Place, blockId: string, element: Element): Pick<FieldProps, 'spot' | 'inputId'> {
  const actionId = 'action_id' in element ? (element.action_id ?? '') : '';
  const scope = place.kind === 'view' ? place.id : `${place.channel}-${place.ts}`;
  const inputId = `f-${scope}-${blockId}-${actionId}`.replace(/[^\w-]/g, '_');
  return { spot: { place, blockId, actionId }, inputId };
}

function drawElement(props: FieldProps): VNode {
  const { element } = props;
  switch (element.type) {
    case 'button':
      return <ButtonElement {...props} element={element} />;
    case 'plain_text_input':
      return <TextInput {...props} element={element} />;
    case 'static_select':
    case 'users_select':
    case 'channels_select':
      return <PickOne {...props} />;
    case 'multi_static_select':
    case 'multi_users_select':
      return <PickMany {...props} />;
    case 'radio_buttons':
      return <RadioButtons {...props} />;
    case 'checkboxes':
      return <Checkboxes {...props} />;
    case 'datepicker':
    case 'timepicker':
      return <When {...props} />;
    default:
      return <Fragment />;
  }
}

function ButtonElement({ spot, element }: FieldProps<Button>) {
  return (
    <button
      type="button"
      class={element.style === undefined ? 'tap' : `tap tap-${element.style}`}
      aria-busy={getState().busy.has(keyOf(spot))}
      onClick={() => tap(spot, element.value === undefined ? {} : { value: element.value }, element.confirm)}
    >
      {plainWords(element.text)}
    </button>
  );
}

function TextInput(props: FieldProps<PlainTextInput>) {
  const { element } = props;
  const shared = {
    ...fieldAttributes(props, 'Text'),
    value: currentText(props),
    placeholder: element.placeholder === undefined ? '' : plainWords(element.placeholder),
    autocomplete: 'off',
    onInput: ({ currentTarget: { value } }: { readonly currentTarget: { readonly value: string } }) =>
      setTyped(props.spot, value === '' ? null : value),
  };
  const most = element.max_length;
  if (element.multiline) return <textarea {...shared} rows={4} maxLength={most ?? 3000} />;
  return <input {...shared} type="text" {...(most === undefined ? {} : { maxLength: most })} />;
}

/** A date or a time, with the phone's own picker. */
function When(props: FieldProps) {
  return (
    <input
      {...fieldAttributes(props, 'When')}
      type={props.element.type === 'datepicker' ? 'date' : 'time'}
      value={currentText(props)}
      onChange={(event) => choose(props, event.currentTarget.value || null)}
    />
  );
}
