import { post } from '../api.js';
import { loadWorkspace } from '../moves/load.js';
import { getState, update, workspaceNow, zone } from '../store.js';
import { clockTime, instantOfWallTime, shortDay, wallTime } from '../text/time.js';
import { h } from '../vendor/preact.js';
import { showModal } from './dialogs.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

async function moveClock(change: { readonly advance: number } | { readonly to: string }): Promise<void> {
  const answer = await post('/local/clock', change);
  update(answer.ok ? { trouble: null, clockOpen: false } : { trouble: answer.message });
  await loadWorkspace();
}

/** Moves on to a chosen time; the workspace's clock never runs backwards. */
async function moveClockTo(at: Date | null): Promise<void> {
  if (at === null) return update({ trouble: 'Choose a day and a time first.' });
  if (at <= workspaceNow()) {
    return update({ trouble: 'The clock only moves on. Choose a time that is still to come.' });
  }
  await moveClock({ to: at.toISOString() });
}

/** The workspace's time, and the buttons that move it on. */
export function TopBar() {
  const { spoken } = getState();
  const now = workspaceNow();
  return (
    <header class="top-bar">
      <button type="button" class="clock" onClick={() => update({ clockOpen: true })}>
        <span class="clock-day">{shortDay(now, zone())}</span> <time>{clockTime(now, zone())}</time>
        <span class="visually-hidden">, workspace time; set another</span>
      </button>
      <button type="button" class="tap tap-small" onClick={() => void moveClock({ advance: HOUR })}>
        <span class="on-desk">+1 hour</span>
        <span class="on-phone" aria-hidden="true">
          +1 h
        </span>
        <span class="visually-hidden on-phone">+1 hour</span>
      </button>
      <button type="button" class="tap tap-small" onClick={() => void moveClock({ advance: DAY })}>
        +1 day
      </button>
      <button
        type="button"
        class="tap tap-small ear"
        aria-pressed={spoken}
        title="What a notification reads aloud"
        onClick={() => update({ spoken: !spoken })}
      >
        <span aria-hidden="true">🔔</span>
        <span class="ear-words">What a notification reads aloud</span>
      </button>
    </header>
  );
}

/** The sheet that sets the clock to a chosen time. */
export function ClockSheet() {
  const { trouble } = getState();
  const timeZone = zone();
  const now = wallTime(workspaceNow(), timeZone);
  return (
    <dialog
      class="ask"
      ref={showModal}
      aria-labelledby="clock-title"
      onClose={() => update({ clockOpen: false })}
    >
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const chosen = new FormData(event.currentTarget).get('to');
          void moveClockTo(typeof chosen === 'string' ? instantOfWallTime(chosen, timeZone) : null);
        }}
      >
        <h2 id="clock-title">Move the clock on</h2>
        <p>
          It is {shortDay(workspaceNow(), timeZone)}, {clockTime(workspaceNow(), timeZone)} in {timeZone}.
          Reminders and roast days happen on the way.
        </p>
        <label htmlFor="clock-to">To</label>
        <input
          id="clock-to"
          class="line"
          type="datetime-local"
          name="to"
          min={now}
          defaultValue={now}
          required
        />
        {trouble === null ? null : <p class="wrong">{trouble}</p>}
        <div class="ask-buttons">
          <button type="submit" class="tap tap-primary">
            Move on
          </button>
          <button type="button" class="tap" onClick={() => update({ clockOpen: false, trouble: null })}>
            Leave it
          </button>
        </div>
      </form>
    </dialog>
  );
}
