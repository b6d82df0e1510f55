import { post } from '../api.js';
import { type Route, readRoute, writeRoute } from '../route.js';
import { getState, me, update } from '../store.js';
import {
  loadHome,
  loadMessages,
  loadUnread,
  loadViews,
  loadWorkspace,
  markRead,
  openDirect,
} from './load.js';

/** Goes to a place by its address; the browser's back button comes back. */
export function go(route: Partial<Route>): void {
  location.hash = writeRoute(route);
}

/** Follows the address: as whom, where. */
export async function arrive(): Promise<void> {
  const before = getState().route;
  const route = readRoute(location.hash);
  update({ route, editing: null, menu: null, trouble: null });
  if (route.handle !== before.handle) await becomePerson();
  else await loadPlace();
}

/** Loads everything afresh: at the start, as another person, after the connection was lost. */
async function becomePerson(): Promise<void> {
  update({
    messages: new Map(),
    unread: new Map(),
    views: { stack: [], errors: null, notice: null },
    home: null,
    typed: new Map(),
  });
  await refresh();
}

export async function refresh(): Promise<void> {
  await loadWorkspace();
  if (me() === null) return;
  await openDirect();
  await Promise.all([loadUnread(), loadViews(), loadPlace()]);
}

async function loadPlace(): Promise<void> {
  const person = me();
  const { place, thread } = getState().route;
  if (person === null || place === null) return;
  if (place === 'home') {
    await post('/local/home-opened', { as: person.id, tab: 'home' });
    return loadHome();
  }
  await Promise.all([
    loadMessages(place, null),
    ...(thread === null ? [] : [loadMessages(place, thread)]),
    ...(isDirect(place) ? [post('/local/home-opened', { as: person.id, tab: 'messages' })] : []),
  ]);
  await markRead(place);
}

function isDirect(channel: string): boolean {
  return getState().workspace?.channels.find(({ id }) => id === channel)?.kind === 'im';
}
