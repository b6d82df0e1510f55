import { draft, send } from '../moves/speak.js';
import { botName, getState, me, placeKey, update, withEntry } from '../store.js';
import { h } from '../vendor/preact.js';

interface ComposerProps {
  readonly channel: string;
  readonly thread: string | null;
  readonly label: string;
}

/** Where one writes: plain words, @names, or a command when it begins with a slash. */
export function Composer({ channel, thread, label }: ComposerProps) {
  const key = placeKey(channel, thread);
  const text = getState().drafts.get(key) ?? '';
  const files = attachedTo(key);
  const boxId = `say-${key}`;
  function hand(form: HTMLFormElement | null): void {
    const written = new FormData(form ?? undefined);
    void send(channel, thread, {
      broadcast: written.get('broadcast') === 'on',
      files: attachedTo(key),
    });
    form?.reset();
    attach(key, []);
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
      {files.length === 0 ? null : (
        <p class="hint">
          Goes along: {files.map(({ name }) => name).join(', ')}{' '}
          <button type="button" class="tap tap-small" onClick={() => attach(key, [])}>
            Take off
          </button>
        </p>
      )}
      <div class="composer-row">
        <label class="tap attach">
          <span aria-hidden="true">+</span>
          <span class="visually-hidden">Add a picture or a file</span>
          <input
            class="visually-hidden"
            type="file"
            multiple
            onChange={(event) => {
              attach(key, [...(event.currentTarget.files ?? [])]);
              event.currentTarget.value = '';
            }}
          />
        </label>
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
        <button type="submit" class="tap tap-primary" disabled={text.trim() === '' && files.length === 0}>
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

function attachedTo(key: string): readonly File[] {
  return getState().attached.get(key) ?? [];
}

function attach(key: string, files: readonly File[]): void {
  update({ attached: withEntry(getState().attached, key, files) });
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

const LAST_MENTION = /(?:^|\s)@([\w.-]*)$/;

interface SuggestionsProps extends Omit<ComposerProps, 'label'> {
  readonly text: string;
  readonly boxId: string;
}

/** Names that complete the @ at the end of the text. */
function Suggestions({ text, channel, thread, boxId }: SuggestionsProps) {
  const begun = LAST_MENTION.exec(text)?.[1]?.toLowerCase();
  const { workspace } = getState();
  if (begun === undefined || workspace === null) return null;
  const others = workspace.people.filter(({ id, isBot, deleted }) => !isBot && !deleted && id !== me()?.id);
  const handles = [botName(), ...others.map(({ name }) => name)];
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
