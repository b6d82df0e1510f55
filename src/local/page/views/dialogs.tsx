import { getState, update } from '../store.js';
import { h } from '../vendor/preact.js';
import { plainWords, Words } from './words.js';

/** Opens a dialog as soon as it is drawn; the browser keeps the focus inside and Escape closes it. */
export function showModal(dialog: HTMLDialogElement | null): void {
  if (dialog !== null && !dialog.open) dialog.showModal();
}

/** "Are you sure?", in the bot's words. */
export function ConfirmDialog() {
  const { confirm } = getState();
  if (confirm === null) return null;
  const { ask, go } = confirm;
  return (
    <dialog class="ask" ref={showModal} aria-labelledby="ask-title" onClose={() => update({ confirm: null })}>
      <h2 id="ask-title">{ask.title === undefined ? 'Are you sure?' : plainWords(ask.title)}</h2>
      <Words of={ask.text} />
      <div class="ask-buttons">
        <button
          type="button"
          class={ask.style === 'danger' ? 'tap tap-danger' : 'tap tap-primary'}
          onClick={() => {
            update({ confirm: null });
            go();
          }}
        >
          {ask.confirm === undefined ? 'Yes' : plainWords(ask.confirm)}
        </button>
        <button type="button" class="tap" onClick={() => update({ confirm: null })}>
          {ask.deny === undefined ? 'No' : plainWords(ask.deny)}
        </button>
      </div>
    </dialog>
  );
}

/** One kind line about what went wrong, where it can be seen. */
export function Trouble() {
  const { trouble, connected } = getState();
  // A lost connection explains every other trouble, and mends by itself.
  const words = connected
    ? trouble
    : 'The connection to the workspace is lost; looking for it again… Your text stays here.';
  return (
    <div role="alert">
      {words === null ? null : (
        <div class="trouble">
          <p>{words}</p>
          {trouble === null || !connected ? null : (
            <button type="button" class="tap tap-small" onClick={() => update({ trouble: null })}>
              All right
            </button>
          )}
        </div>
      )}
    </div>
  );
}
