import { draft, send } from '../moves/speak.js';
import { botName, getState, me, placeKey } from '../store.js';
import { h } from '../vendor/preact.js';

interface ComposerProps {
  readonly channel: string;
  readonly thread: string | null;
  readonly label: string;
}

const LAST_MENTION = /(?:^|\s)@([\w.-]*)$/;

/** Where one writes: plain words, @names, or a command when it begins with a slash. */
export function Composer({ channel, thread, label }: ComposerProps) {
  const text = getState().drafts.get(placeKey(channel, thread)) ?? '';
  const boxId = `say-${placeKey(channel, thread)}`;
  function hand(form: HTMLFormElement | null): void {
    const broadcast = new FormData(form ?? undefined).get('broadcast') === 'on';
    void send(channel, thread, broadcast);
    form?.reset();
    // Keeps a phone's keyboard open for the next note.
    document.getElementById(boxId)?.focus();
  }
  return (
    <form
      class="composer"
      onSubmit={(event) => {
        event.preventDefault();
        hand(event.currentTarget);
      }}
    >
      <Suggestions text={text} channel={channel} thread={thread} boxId={boxId} />
      {text.startsWith('/') ? <CommandHint inThread={thread !== null} /> : null}
      <div class="composer-row">
        <textarea
          id={boxId}
          class="line"
          rows={1}
          aria-label={label}
          placeholder={thread === null ? 'Write, or type /spoon' : 'Reply'}
          value={text}
          onInput={(event) => draft(channel, thread, event.currentTarget.value)}
          onKeyDown={(event) => {
            // Enter sends where there is a keyboard; on a touch screen it starts a new line.
            const hasKeyboard = matchMedia('(pointer: fine)').matches;
            if (event.key !== 'Enter' || event.shiftKey || event.isComposing || !hasKeyboard) return;
            event.preventDefault();
            hand(event.currentTarget.form);
          }}
        />
        <button type="submit" class="tap tap-primary send" disabled={text.trim() === ''}>
          Send
        </button>
      </div>
      {thread === null ? null : (
        <label class="choice choice-small">
          <input type="checkbox" name="broadcast" />
          <span>also show it in the channel</span>
        </label>
      )}
    </form>
  );
}

function CommandHint({ inThread }: { readonly inThread: boolean }) {
  return (
    <p class="hint">
      {inThread
        ? `Slash commands do not work in threads; write “@${botName()} …” instead.`
        : 'This goes to the bot as a command; only you see that you typed it.'}
    </p>
  );
}

interface SuggestionsProps {
  readonly text: string;
  readonly channel: string;
  readonly thread: string | null;
  readonly boxId: string;
}

/** Names that complete the @ at the end of the text. */
function Suggestions({ text, channel, thread, boxId }: SuggestionsProps) {
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
