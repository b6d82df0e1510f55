import { writeRoute } from '../route.js';
import { getState, me, type PageState } from '../store.js';
import { h } from '../vendor/preact.js';
import { ConfirmDialog, Trouble } from './dialogs.js';
import { FormSheet } from './form-sheet.js';
import { PictureDialog } from './picture.js';
import { Rail } from './rail.js';
import { Room, Thread } from './room.js';
import { ClockSheet, TopBar } from './top-bar.js';

/** The page: on a phone one pane at a time, on a desk side by side. */
export function App() {
  const state = getState();
  if (me() === null) return <Door />;
  const { place, thread } = state.route;
  const top = state.views.stack.at(-1);
  return (
    <div class="shell" data-pane={paneInFront(state)}>
      <TopBar />
      {top === undefined ? <Trouble /> : null}
      <div class="panes">
        <Rail />
        <Room />
        {place === null || thread === null ? null : <Thread channelId={place} ts={thread} />}
      </div>
      {top === undefined ? null : <FormSheet key={top.id} view={top} depth={state.views.stack.length} />}
      {state.clockOpen ? <ClockSheet /> : null}
      <ConfirmDialog />
      <PictureDialog />
      <div class="visually-hidden" aria-live="polite">
        {state.announcement}
      </div>
    </div>
  );
}

function paneInFront({ route }: PageState): 'list' | 'room' | 'thread' {
  if (route.place === null) return 'list';
  return route.thread === null ? 'room' : 'thread';
}

function Door() {
  return (
    <div>
      <Trouble />
      <People />
    </div>
  );
}

/** The first question: whose phone is this? */
function People() {
  const { workspace } = getState();
  if (workspace === null) return <main class="people">Opening the door…</main>;
  return (
    <main class="people">
      <p class="house">{workspace.workspace.name}</p>
      <h1>Whose phone is this?</h1>
      <p class="faint">
        This is a workspace on your own machine. Be anybody; a second tab can be somebody else at the same
        time.
      </p>
      <ul class="people-list">
        {workspace.people
          .filter(({ isBot, deleted }) => !isBot && !deleted)
          .map((person) => (
            <li key={person.id}>
              <a class="person" href={writeRoute({ handle: person.name })}>
                <span class="stamp" aria-hidden="true">
                  {person.realName.slice(0, 2)}
                </span>
                <span>
                  <strong>{person.realName}</strong>
                  <small>@{person.name}</small>
                </span>
              </a>
            </li>
          ))}
      </ul>
    </main>
  );
}
