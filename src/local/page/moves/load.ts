import type { Channel } from '../../api-types.js';
import { get, post } from '../api.js';
import { inOrder } from '../in-order.js';
import { getState, me, nameOf, placeKey, update, withEntry } from '../store.js';
import type { PageMessage, PageView, PageViews, WorkspaceState } from '../wire.js';

/** Reads people, channels and the clock. */
export async function loadWorkspace(): Promise<void> {
  const answer = await inOrder('state', get<WorkspaceState>('/local/state'));
  if (answer === null) return;
  if (!answer.ok) return update({ trouble: answer.message });
  update({ workspace: answer.body, offsetMs: Date.parse(answer.body.now) - Date.now() });
}

/** Makes sure the person and the bot have their direct messages. */
export async function openDirect(): Promise<void> {
  const person = me();
  if (person === null) return;
  const answer = await get<{ readonly channel: Channel }>('/local/dm', { as: person.id });
  const known = getState().workspace;
  if (!answer.ok || known === null) return;
  const others = known.channels.filter(({ id }) => id !== answer.body.channel.id);
  update({ workspace: { ...known, channels: [...others, answer.body.channel] } });
}

export async function loadMessages(channel: string, thread: string | null): Promise<void> {
  const person = me();
  if (person === null) return;
  const answer = await inOrder(
    `messages ${person.id} ${placeKey(channel, thread)}`,
    get<{ readonly messages: readonly PageMessage[] }>('/local/messages', {
      as: person.id,
      channel,
      ...(thread === null ? {} : { thread }),
    }),
  );
  if (answer === null || me()?.id !== person.id) return;
  if (!answer.ok) return update({ trouble: answer.message });
  const before = getState().messages.get(placeKey(channel, thread));
  update({ messages: withEntry(getState().messages, placeKey(channel, thread), answer.body.messages) });
  if (before !== undefined) announce(before, answer.body.messages);
}

/** Says new messages of others aloud to those who listen to the page. */
function announce(before: readonly PageMessage[], after: readonly PageMessage[]): void {
  const known = new Set(before.map(({ ts }) => ts));
  const fresh = after.filter(({ ts, user }) => !known.has(ts) && user !== me()?.id);
  const last = fresh.at(-1);
  if (last === undefined) return;
  update({ announcement: `${nameOf(last.user)}: ${last.text}` });
}

export async function loadUnread(): Promise<void> {
  const person = me();
  if (person === null) return;
  const answer = await inOrder(
    'unread',
    get<{ readonly channels: readonly { id: string; unread: number }[] }>('/local/unread', { as: person.id }),
  );
  if (answer?.ok && me()?.id === person.id)
    update({ unread: new Map(answer.body.channels.map(({ id, unread }) => [id, unread])) });
}

/** Marks what is on the screen as read. */
export async function markRead(channel: string): Promise<void> {
  const person = me();
  const last = getState()
    .messages.get(channel)
    ?.findLast(({ ephemeral }) => !ephemeral);
  if (person === null || last === undefined || !getState().unread.get(channel)) return;
  await post('/local/read', { as: person.id, channel, ts: last.ts });
  await loadUnread();
}

export async function loadViews(): Promise<void> {
  const person = me();
  if (person === null) return;
  const answer = await inOrder('views', get<PageViews>('/local/views', { as: person.id }));
  if (answer?.ok && me()?.id === person.id) update({ views: answer.body });
}

export async function loadHome(): Promise<void> {
  const person = me();
  if (person === null) return;
  const answer = await inOrder(
    'home',
    get<{ readonly view: PageView | null }>('/local/home', { as: person.id }),
  );
  if (answer?.ok && me()?.id === person.id) update({ home: answer.body.view });
}
