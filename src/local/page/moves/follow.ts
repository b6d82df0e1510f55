import type { Change } from '../../api-types.js';
import { getState, update } from '../store.js';
import {
  loadHome,
  loadMessages,
  loadUnread,
  loadViews,
  loadWorkspace,
  markRead,
  openDirect,
} from './load.js';
import { refresh } from './travel.js';

const pending = new Set<string>();

/** Keeps the page true while the workspace changes. */
export function follow(): void {
  const stream = new EventSource('/local/stream');
  stream.addEventListener('change', (event: MessageEvent<string>) => {
    const change: Change = JSON.parse(event.data);
    later(change);
  });
  stream.addEventListener('open', () => {
    if (!getState().connected) void refresh();
    update(getState().connected ? { connected: true } : { connected: true, trouble: null });
  });
  stream.addEventListener('error', () => update({ connected: false }));
}

/** Collects a burst of changes and reads each thing once. */
function later(change: Change): void {
  const elsewhere = change.kind === 'message' && change.channel !== getState().route.place;
  const alreadyPlanned = pending.size > 0;
  pending.add(elsewhere ? 'unread' : change.kind);
  if (alreadyPlanned) return;
  setTimeout(() => {
    const kinds = new Set(pending);
    pending.clear();
    void reload(kinds);
  }, 40);
}

async function reload(kinds: ReadonlySet<string>): Promise<void> {
  const { place, thread } = getState().route;
  if (kinds.has('clock') || kinds.has('channels') || kinds.has('people')) {
    await loadWorkspace();
    await openDirect();
  }
  if (kinds.has('views')) await loadViews();
  if (kinds.has('home') && place === 'home') await loadHome();
  if (kinds.has('message') && place !== null && place !== 'home') {
    await Promise.all([loadMessages(place, null), ...(thread === null ? [] : [loadMessages(place, thread)])]);
  }
  if (kinds.has('message') || kinds.has('unread')) await loadUnread();
  if (kinds.has('message') && place !== null) await markRead(place);
}
