import { askDelete, startEditing, toggleReaction } from '../moves/speak.js';
import { go } from '../moves/travel.js';
import { getState, me, update } from '../store.js';
import { emojiOrName, QUICK_REACTIONS } from '../text/emoji.js';
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
        <button type="button" class="menu-item" onClick={() => startEditing(message)}>
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
