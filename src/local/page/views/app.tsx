import { getState, me, type PageState } from '../store.js';
import { h } from '../vendor/preact.js';
import { ConfirmDialog, PictureDialog, Trouble } from './dialogs.js';
import { FormSheet } from './form-sheet.js';
import { People } from './people.js';
import { Rail } from './rail.js';
import { Room } from './room.js';
import { Thread } from './thread.js';
import { ClockSheet, TopBar } from './top-bar.js';

/** The page: on a phone one pane at a time, on a desk side by side. */
export function App() {
  const state = getState();
  if (me(state) === null) return <Door />;
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
    <div class="door">
      <Trouble />
      <People />
    </div>
  );
}
