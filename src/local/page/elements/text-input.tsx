import type { EmailInput, NumberInput, PlainTextInput, URLInput } from '@slack/types';
import { keepTyped, tap } from '../moves/forms.js';
import { h, type JSX } from '../vendor/preact.js';
import { plainWords } from '../views/words.js';
import { currentText, type FieldProps } from './field.js';

type TextElement = PlainTextInput | NumberInput | EmailInput | URLInput;

type Triggers = readonly ('on_enter_pressed' | 'on_character_entered')[];

function triggersOf(element: TextElement): Triggers {
  return element.dispatch_action_config?.trigger_actions_on ?? ['on_enter_pressed'];
}

let pause: ReturnType<typeof setTimeout> | undefined;

function typed(props: FieldProps<TextElement>, text: string): void {
  keepTyped(props.spot, text === '' ? null : text);
  if (!props.dispatches || !triggersOf(props.element).includes('on_character_entered')) return;
  clearTimeout(pause);
  pause = setTimeout(() => tap(props.spot, { value: text }, undefined), 400);
}

function pressed(props: FieldProps<TextElement>, event: KeyboardEvent, text: string): void {
  if (event.key !== 'Enter' || !props.dispatches) return;
  if (!triggersOf(props.element).includes('on_enter_pressed')) return;
  event.preventDefault();
  tap(props.spot, { value: text }, undefined);
}

export function TextInput(props: FieldProps<TextElement>) {
  const { element, inputId, describedBy, invalid } = props;
  const shared = {
    id: inputId,
    class: 'line',
    value: currentText(props),
    placeholder: element.placeholder === undefined ? '' : plainWords(element.placeholder),
    autofocus: element.focus_on_load ?? false,
    'aria-invalid': invalid,
    'aria-describedby': describedBy,
    autocomplete: 'off',
  };
  if (element.type === 'plain_text_input' && element.multiline) {
    return (
      <textarea
        {...shared}
        rows={4}
        maxLength={element.max_length ?? 3000}
        onInput={(event: JSX.TargetedInputEvent<HTMLTextAreaElement>) =>
          typed(props, event.currentTarget.value)
        }
      />
    );
  }
  return (
    <input
      {...shared}
      {...kindOf(element)}
      onInput={(event: JSX.TargetedInputEvent<HTMLInputElement>) => typed(props, event.currentTarget.value)}
      onKeyDown={(event: JSX.TargetedKeyboardEvent<HTMLInputElement>) =>
        pressed(props, event, event.currentTarget.value)
      }
    />
  );
}

function kindOf(element: TextElement): JSX.HTMLAttributes<HTMLInputElement> & JSX.InputHTMLAttributes {
  switch (element.type) {
    case 'number_input':
      // A text field with a number keypad: a browser's own number field drops what it cannot read.
      return { type: 'text', inputMode: element.is_decimal_allowed ? 'decimal' : 'numeric' };
    case 'email_text_input':
      return { type: 'email' };
    case 'url_text_input':
      return { type: 'url' };
    case 'plain_text_input':
      return element.max_length === undefined
        ? { type: 'text' }
        : { type: 'text', maxLength: element.max_length };
  }
}
