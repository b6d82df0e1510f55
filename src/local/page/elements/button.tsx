import type { Button, ConfirmationDialog, Overflow, WorkflowButton } from '@slack/types';
import { offerOf } from '../fields.js';
import { type FieldSpot, keyOf, tap } from '../moves/forms.js';
import { getState } from '../store.js';
import { h } from '../vendor/preact.js';
import { plainWords } from '../views/words.js';

export function ButtonElement({ spot, element }: { readonly spot: FieldSpot; readonly element: Button }) {
  const busy = getState().busy.has(keyOf(spot));
  const style = element.style === undefined ? 'tap' : `tap tap-${element.style}`;
  const { url } = element;
  function press(): void {
    if (url !== undefined) window.open(url, '_blank', 'noopener,noreferrer');
    tap(spot, element.value === undefined ? {} : { value: element.value }, element.confirm);
  }
  return (
    <button
      type="button"
      class={style}
      aria-label={element.accessibility_label}
      aria-busy={busy}
      onClick={press}
    >
      {plainWords(element.text)}
    </button>
  );
}

export function WorkflowButtonElement({ element }: { readonly element: WorkflowButton }) {
  return (
    <button type="button" class="tap" disabled>
      {plainWords(element.text)}
    </button>
  );
}

/** The little menu of an overflow element. */
export function OverflowElement({ spot, element }: { readonly spot: FieldSpot; readonly element: Overflow }) {
  return (
    <details
      class="overflow"
      onFocusOut={({ currentTarget, relatedTarget }) => {
        if (relatedTarget instanceof Node && currentTarget.contains(relatedTarget)) return;
        currentTarget.open = false;
      }}
    >
      <summary class="tap tap-small">More</summary>
      <ul class="overflow-list">
        {element.options.map((option) => (
          <li>
            <button
              type="button"
              class="overflow-item"
              onClick={(event) => {
                event.currentTarget.closest('details')?.removeAttribute('open');
                chooseFrom(spot, offerOf(option).value, element.confirm);
              }}
            >
              {plainWords(option.text)}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

function chooseFrom(spot: FieldSpot, value: string, confirm: ConfirmationDialog | undefined): void {
  tap(spot, { selected: value }, confirm);
}
