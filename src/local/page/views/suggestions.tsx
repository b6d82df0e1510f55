import { draft } from '../moves/speak.js';
import { botName, getState, me } from '../store.js';
import { h } from '../vendor/preact.js';

const LAST_MENTION = /(?:^|\s)@([\w.-]*)$/;

interface SuggestionsProps {
  readonly text: string;
  readonly channel: string;
  readonly thread: string | null;
  readonly boxId: string;
}

/** Names that complete the @ at the end of the text. */
export function Suggestions({ text, channel, thread, boxId }: SuggestionsProps) {
  const begun = LAST_MENTION.exec(text)?.[1]?.toLowerCase();
  const { workspace } = getState();
  if (begun === undefined || workspace === null) return null;
  const handles = [botName(), ...workspace.people.filter(isMentionable).map(({ name }) => name)];
  const fitting = handles.filter((handle) => {
    const low = handle.toLowerCase();
    return low.startsWith(begun) && low !== begun;
  });
  if (fitting.length === 0) return null;
  return (
    <div class="suggestions">
      {fitting.slice(0, 6).map((handle) => (
        <button
          type="button"
          class="tap tap-small"
          onClick={() => {
            draft(channel, thread, `${text.slice(0, text.length - begun.length)}${handle} `);
            document.getElementById(boxId)?.focus();
          }}
        >
          @{handle}
        </button>
      ))}
    </div>
  );
}

function isMentionable(person: {
  readonly id: string;
  readonly isBot: boolean;
  readonly deleted: boolean;
}): boolean {
  return !person.isBot && !person.deleted && person.id !== me()?.id;
}
