import { toggleReaction } from '../moves/speak.js';
import { me, nameOf } from '../store.js';
import { emojiOrName } from '../text/emoji.js';
import { h } from '../vendor/preact.js';
import type { PageMessage } from '../wire.js';

export function Reactions({ message }: { readonly message: PageMessage }) {
  if (message.reactions.length === 0) return null;
  const person = me();
  return (
    <div class="reactions">
      {message.reactions.map(({ name, users }) => (
        <button
          type="button"
          class="reaction"
          aria-pressed={person !== null && users.includes(person.id)}
          title={users.map((id) => nameOf(id)).join(', ')}
          onClick={() => void toggleReaction(message, name)}
        >
          {emojiOrName(name)} <span class="count">{users.length}</span>
          <span class="visually-hidden">
            {name}: {users.map((id) => nameOf(id)).join(', ')}
          </span>
        </button>
      ))}
    </div>
  );
}
