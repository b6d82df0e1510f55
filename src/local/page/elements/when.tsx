import type { Datepicker, DateTimepicker, Timepicker } from '@slack/types';
import { zone } from '../store.js';
import { instantOfWallTime, wallTime } from '../text/time.js';
import { h } from '../vendor/preact.js';
import { choose, currentText, type FieldProps } from './field.js';

const INPUT_TYPES = { datepicker: 'date', timepicker: 'time', datetimepicker: 'datetime-local' } as const;

/** Date, time or both, with the phone's own picker; instants are shown in the person's zone. */
export function When(props: FieldProps<Datepicker | Timepicker | DateTimepicker>) {
  const { element } = props;
  const text = currentText(props);
  const isInstant = element.type === 'datetimepicker';
  const shown = isInstant && text !== '' ? wallTime(new Date(Number(text) * 1000), zone()) : text;
  function pick(value: string): void {
    const at = isInstant ? instantOfWallTime(value, zone()) : null;
    if (value === '') choose(props, null);
    else if (!isInstant) choose(props, value);
    else if (at !== null) choose(props, String(at.getTime() / 1000));
  }
  return (
    <input
      id={props.inputId}
      class="line"
      type={INPUT_TYPES[element.type]}
      value={shown}
      aria-invalid={props.invalid}
      aria-describedby={props.describedBy}
      aria-labelledby={props.labelledBy}
      aria-label={props.labelledBy === undefined ? 'When' : undefined}
      onChange={(event) => pick(event.currentTarget.value)}
    />
  );
}
