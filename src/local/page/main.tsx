import { follow } from './moves/follow.js';
import { arrive, refresh } from './moves/travel.js';
import { settle, watchEnds } from './stick.js';
import { getState, onChange, update } from './store.js';
import { h, render } from './vendor/preact.js';
import { App } from './views/app.js';

const root = document.getElementById('page');

if (root !== null) {
  onChange(() => {
    render(<App />, root);
    settle(root);
  });
  watchEnds(root);
  window.addEventListener('hashchange', () => void arrive());
  // The clock in the top bar goes on by itself.
  setInterval(() => update({ offsetMs: getState().offsetMs }), 10_000);
  follow();
  void refresh();
}
