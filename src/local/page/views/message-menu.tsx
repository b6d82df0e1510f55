import { askDelete, saveEdit, toggleReaction } from '../moves/speak.js';
import { go } from '../moves/travel.js';
import { getState, me, update } from '../store.js';
import { emojiOrName, QUICK_REACTIONS, withEmoji } from '../text/emoji.js';
import { decodeEntities } from '../text/mrkdwn.js';
import { h } from '../vendor/preact.js';
import type { PageMessage } from '../wire.js';

interface MessageMenuProps {
  readonly message: PageMessage;
  readonly open: boolean;
  readonly menuKey: string;
  readonly inThread: boolean;
}

/** What one can do with a message: behind a button, or a long press. */
export function MessageMenu({ message, open, menuKey, inThread }: MessageMenuProps) {
  if (message.ephemeral || message.deleted) return null;
  return (
    <div class="menu">
      <button
        type="button"
        class="menu-button"
        aria-label="What to do with this message"
        aria-expanded={open}
        onClick={() => update({ menu: open ? null : menuKey })}
      >
        <span aria-hidden="true">⋮</span>
      </button>
      {open ? <MenuPanel message={message} inThread={inThread} /> : null}
    </div>
  );
}

function MenuPanel({ message, inThread }: { readonly message: PageMessage; readonly inThread: boolean }) {
  const mine = message.user === me()?.id && message.botId === null;
  const { route } = getState();
  function reply(): void {
    update({ menu: null });
    go({ ...route, place: message.channel, thread: message.threadTs ?? message.ts });
  }
  return (
    <div class="menu-panel">
      <div class="menu-faces">
        {QUICK_REACTIONS.map((name) => (
          <button
            type="button"
            class="face"
            aria-label={`React with ${name}`}
            onClick={() => void toggleReaction(message, name)}
          >
            {emojiOrName(name)}
          </button>
        ))}
      </div>
      {inThread ? null : (
        <button type="button" class="menu-item" onClick={reply}>
          Reply
        </button>
      )}
      {mine ? (
        <button type="button" class="menu-item" onClick={() => update({ editing: message.ts, menu: null })}>
          Edit
        </button>
      ) : null}
      {mine ? (
        <button type="button" class="menu-item menu-danger" onClick={() => askDelete(message)}>
          Delete
        </button>
      ) : null}
    </div>
  );
}

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
