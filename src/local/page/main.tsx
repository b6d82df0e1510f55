import { recallDrafts } from './moves/speak.js';
import { arrive, follow, refresh } from './moves/travel.js';
import { afterDrawing, watchEnds } from './stick.js';
import { botName, getState, onChange, type PageState, update } from './store.js';
import { h, render } from './vendor/preact.js';
import { App } from './views/app.js';

const root = document.getElementById('page');

if (root !== null) {
  onChange((state) => {
    render(<App />, root);
    afterDrawing(root);
    document.title = titleOf(state);
  });
  watchEnds(root);
  window.addEventListener('hashchange', () => void arrive().then(() => focusPane(root)));
  // The clock in the top bar goes on by itself.
  setInterval(() => update({}), 10_000);
  recallDrafts();
  follow();
  void refresh();
}

/** Who and where, so that several tabs can be told apart; unread messages elsewhere come first. */
function titleOf({ route, workspace, unread }: PageState): string {
  const waiting = [...unread.values()].reduce((sum, count) => sum + count, 0);
  const channel = workspace?.channels.find(({ id }) => id === route.place);
  const house = workspace?.workspace.name ?? 'Local workspace';
  const isBot = channel?.kind === 'im' || route.place === 'home';
  const where = isBot ? botName() : channel === undefined ? house : `#${channel.name}`;
  const who = route.handle === null ? '' : `@${route.handle} · `;
  return `${waiting > 0 ? `(${waiting}) ` : ''}${who}${where}`;
}

/** Takes those who read by keyboard or by ear along to the pane they went to. */
function focusPane(page: HTMLElement): void {
  const { thread } = getState().route;
  page
    .querySelector<HTMLElement>(thread === null ? '.room h1' : '.thread h1')
    ?.focus({ preventScroll: true });
}
