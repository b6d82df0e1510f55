import type { Change } from '../../api-types.js';
import { post } from '../api.js';
import { type Route, readRoute, writeRoute } from '../route.js';
import { getState, me, NO_VIEWS, update } from '../store.js';
import { loadHome, loadRoom, loadUnread, loadViews, loadWorkspace, markRead, openDirect } from './load.js';

/** Goes to a place by its address; the browser's back button comes back. */
export function go(route: Partial<Route>): void {
  location.hash = writeRoute(route);
}

/** Follows the address: as whom, where. */
export async function arrive(): Promise<void> {
  const before = getState().route;
  const route = readRoute(location.hash);
  update({ route, editing: null, menu: null, trouble: null });
  if (route.handle === before.handle) return loadPlace();
  update({ messages: new Map(), unread: new Map(), views: NO_VIEWS, home: null, typed: new Map() });
  await refresh();
}

/** Loads everything afresh: at the start, as another person, after the connection was lost. */
export async function refresh(): Promise<void> {
  await loadWorkspace();
  if (me() === null) return;
  await openDirect();
  await Promise.all([loadUnread(), loadViews(), loadPlace()]);
}

async function loadPlace(): Promise<void> {
  const { place } = getState().route;
  if (me() === null || place === null) return;
  if (place === 'home') {
    await appOpened('home');
    return loadHome();
  }
  const channel = getState().workspace?.channels.find(({ id }) => id === place);
  await Promise.all([loadRoom(place), ...(channel?.kind === 'im' ? [appOpened('messages')] : [])]);
  await markRead(place);
}

function appOpened(tab: 'home' | 'messages'): Promise<unknown> {
  return post('/local/home-opened', { as: me()?.id, tab });
}

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

const pending = new Set<string>();

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
  const { place } = getState().route;
  if (kinds.has('clock') || kinds.has('channels') || kinds.has('people')) {
    await loadWorkspace();
    await openDirect();
  }
  if (kinds.has('views')) await loadViews();
  if (kinds.has('home') && place === 'home') await loadHome();
  const isRead = kinds.has('message') && place !== null && place !== 'home';
  if (isRead) await loadRoom(place);
  if (kinds.has('message') || kinds.has('unread')) await loadUnread();
  if (isRead) await markRead(place);
}
