import { closeView, submit } from '../moves/forms.js';
import { fieldKey, getState } from '../store.js';
import { h } from '../vendor/preact.js';
import type { PageView } from '../wire.js';
import { Blocks } from './blocks.js';
import { showModal, Trouble } from './dialogs.js';
import { plainWords } from './words.js';

/** The form on top of the stack: the whole screen of a phone, a sheet on a desk. */
export function FormSheet({ view, depth }: { readonly view: PageView; readonly depth: number }) {
  const { views, busy } = getState();
  const titleId = `title-${view.id}`;
  const waits = busy.has(fieldKey(view.id, '', 'submit'));
  const close = view.close ? plainWords(view.close) : depth > 1 ? 'Back' : 'Close';
  return (
    <dialog
      class="sheet"
      ref={openForm}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        void closeView(view);
      }}
      onClose={() => void closeView(view)}
    >
      <form
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          void submit(view);
        }}
      >
        <header class="sheet-head">
          <h2 id={titleId} tabIndex={-1}>
            {view.title === undefined ? 'Form' : plainWords(view.title)}
          </h2>
        </header>
        <div class="sheet-body">
          <Trouble />
          {views.notice === null ? null : (
            <p class="trouble" role="alert">
              {views.notice}
            </p>
          )}
          <Blocks blocks={view.blocks} place={{ kind: 'view', id: view.id }} errors={views.errors} />
        </div>
        <footer class="sheet-foot">
          <ErrorCount errors={views.errors} />
          <button type="button" class="tap" onClick={() => void closeView(view)}>
            {close}
          </button>
          {view.submit ? (
            <button type="submit" class="tap tap-primary" aria-busy={waits} disabled={waits}>
              {plainWords(view.submit)}
            </button>
          ) : null}
        </footer>
      </form>
    </dialog>
  );
}

/** Begins at the title, so that no keyboard covers the form. */
function openForm(dialog: HTMLDialogElement | null): void {
  showModal(dialog);
  dialog?.querySelector('h2')?.focus();
}

function ErrorCount({ errors }: { readonly errors: Readonly<Record<string, string>> | null }) {
  const count = errors === null ? 0 : Object.keys(errors).length;
  return (
    <p class="wrong sheet-errors" role="status">
      {count === 0
        ? ''
        : count === 1
          ? 'One field needs another look.'
          : `${count} fields need another look.`}
    </p>
  );
}
