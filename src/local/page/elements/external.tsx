import type { ExternalSelect, MultiExternalSelect } from '@slack/types';
import { askOptions } from '../moves/forms.js';
import { h } from '../vendor/preact.js';
import type { FieldProps } from './field.js';
import { PickMany } from './pick-many.js';
import { PickOne } from './pick-one.js';

let pause: ReturnType<typeof setTimeout> | undefined;

/** A select whose options the bot gives while one types. */
export function External(props: FieldProps<ExternalSelect | MultiExternalSelect>) {
  const least = props.element.min_query_length ?? 3;
  function search(query: string): void {
    clearTimeout(pause);
    if (query.length >= least) pause = setTimeout(() => void askOptions(props.spot, query), 250);
  }
  const Picker = props.element.type === 'external_select' ? PickOne : PickMany;
  return (
    <div class="external">
      <input
        class="line"
        type="search"
        aria-label="Search the choices"
        placeholder={least <= 1 ? 'Type to search' : `Type ${least} letters or more to search`}
        onFocus={(event) => search(event.currentTarget.value)}
        onInput={(event) => search(event.currentTarget.value)}
      />
      <Picker {...props} />
    </div>
  );
}
