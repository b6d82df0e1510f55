import { saveEdit } from '../moves/speak.js';
import { getState, update } from '../store.js';
import { withEmoji } from '../text/emoji.js';
import { decodeEntities } from '../text/mrkdwn.js';
import { h } from '../vendor/preact.js';
import type { PageMessage } from '../wire.js';

/** Message text as its author typed it: handles instead of ids, no entities. */
function asTyped(text: string): string {
  const people = getState().workspace?.people ?? [];
  const channels = getState().workspace?.channels ?? [];
  const named = text
    .replace(/<@([A-Z0-9]+)(?:\|[^>]*)?>/g, (whole, id: string) => {
      const person = people.find((one) => one.id === id);
      return person === undefined ? whole : `@${person.name}`;
    })
    .replace(/<#([A-Z0-9]+)(?:\|[^>]*)?>/g, (whole, id: string) => {
      const channel = channels.find((one) => one.id === id);
      return channel === undefined ? whole : `#${channel.name}`;
    })
    .replace(/<((?:https?:\/\/|mailto:)[^|>]+)(?:\|[^>]*)?>/g, '$1');
  return withEmoji(decodeEntities(named));
}

export function EditBox({ message }: { readonly message: PageMessage }) {
  return (
    <form
      class="edit"
      onSubmit={(event) => {
        event.preventDefault();
        const words = new FormData(event.currentTarget).get('words');
        if (typeof words === 'string') void saveEdit(message, words);
      }}
    >
      <textarea
        name="words"
        class="line"
        aria-label="The message’s new words"
        rows={2}
        ref={focusAtEnd}
        defaultValue={asTyped(message.text)}
      />
      <div class="edit-buttons">
        <button type="submit" class="tap tap-primary">
          Save
        </button>
        <button type="button" class="tap" onClick={() => update({ editing: null })}>
          Leave as it was
        </button>
      </div>
    </form>
  );
}

function focusAtEnd(box: HTMLTextAreaElement | null): void {
  box?.focus();
  box?.setSelectionRange(box.value.length, box.value.length);
}
