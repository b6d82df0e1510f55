import type { Channel } from '../../api-types.js';
import { type Answer, get, inOrder, post } from '../api.js';
import { getState, me, nameOf, placeKey, update, withEntry } from '../store.js';
import type { PageMessage, PageView, PageViews, WorkspaceState } from '../wire.js';

/** Does something as the person; what hinders it is shown as trouble. */
export async function act<T>(path: string, body: object): Promise<Answer<T>> {
  const answer = await post<T>(path, { as: me()?.id, ...body });
  if (!answer.ok) update({ trouble: answer.message });
  return answer;
}

/** Reads something as the person; null when nobody is picked, or the answer came too late to count. */
async function look<T>(
  path: string,
  query: Readonly<Record<string, string>> = {},
): Promise<Answer<T> | null> {
  const person = me();
  if (person === null) return null;
  const question = [path, person.id, ...Object.values(query)].join(' ');
  const answer = await inOrder(question, get<T>(path, { as: person.id, ...query }));
  return me()?.id === person.id ? answer : null;
}

/** Reads people, channels and the clock. */
export async function loadWorkspace(): Promise<void> {
  const answer = await inOrder('state', get<WorkspaceState>('/local/state'));
  if (answer === null) return;
  if (!answer.ok) return update({ trouble: answer.message });
  update({ workspace: answer.body, offsetMs: Date.parse(answer.body.now) - Date.now() });
}

/** Makes sure the person and the bot have their direct messages. */
export async function openDirect(): Promise<void> {
  const answer = await look<{ readonly channel: Channel }>('/local/dm');
  const known = getState().workspace;
  if (!answer?.ok || known === null) return;
  const others = known.channels.filter(({ id }) => id !== answer.body.channel.id);
  update({ workspace: { ...known, channels: [...others, answer.body.channel] } });
}

/** Reads a channel and, when one is open there, its thread. */
export async function loadRoom(channel: string): Promise<void> {
  const { thread } = getState().route;
  await Promise.all([
    loadMessages(channel, null),
    ...(thread === null ? [] : [loadMessages(channel, thread)]),
  ]);
}

export async function loadMessages(channel: string, thread: string | null): Promise<void> {
  const answer = await look<{ readonly messages: readonly PageMessage[] }>('/local/messages', {
    channel,
    ...(thread === null ? {} : { thread }),
  });
  if (answer === null) return;
  if (!answer.ok) return update({ trouble: answer.message });
  const { messages } = getState();
  const key = placeKey(channel, thread);
  update({ messages: withEntry(messages, key, answer.body.messages) });
  announce(messages.get(key) ?? answer.body.messages, answer.body.messages);
}

/** Says new messages of others aloud to those who listen to the page. */
function announce(before: readonly PageMessage[], after: readonly PageMessage[]): void {
  const known = new Set(before.map(({ ts }) => ts));
  const last = after.filter(({ ts, user }) => !known.has(ts) && user !== me()?.id).at(-1);
  if (last !== undefined) update({ announcement: `${nameOf(last.user)}: ${last.text}` });
}

export async function loadUnread(): Promise<void> {
  const answer = await look<{ readonly channels: readonly { id: string; unread: number }[] }>(
    '/local/unread',
  );
  if (answer?.ok) update({ unread: new Map(answer.body.channels.map(({ id, unread }) => [id, unread])) });
}

/** Marks what is on the screen as read. */
export async function markRead(channel: string): Promise<void> {
  const last = getState()
    .messages.get(channel)
    ?.findLast(({ ephemeral }) => !ephemeral);
  if (last === undefined || !getState().unread.get(channel)) return;
  await post('/local/read', { as: me()?.id, channel, ts: last.ts });
  await loadUnread();
}

export async function loadViews(): Promise<void> {
  const answer = await look<PageViews>('/local/views');
  if (answer?.ok) update({ views: answer.body });
}

export async function loadHome(): Promise<void> {
  const answer = await look<{ readonly view: PageView | null }>('/local/home');
  if (answer?.ok) update({ home: answer.body.view });
}
