import type { Place } from '../kit/notice.js';
import { findNotice } from '../store/notices.js';
import type { House } from './house.js';

/** Where in Slack a place is, now. */
export type Target = { readonly channel: string; readonly threadTs: string | null };

/** The channel and thread of a place; null while the notice that a thread hangs under does not stand yet. */
export async function targetOf(house: House, workspace: string, place: Place): Promise<Target | null> {
  if (place.kind === 'channel') return { channel: place.channel, threadTs: null };
  if (place.kind === 'direct') return { channel: await openDirect(house, place.person), threadTs: null };
  const parent = await findNotice(house.deps.db, workspace, place.under);
  return parent?.channel && parent.ts ? { channel: parent.channel, threadTs: parent.ts } : null;
}

const opened = new WeakMap<House, Map<string, string>>();

/** A person's direct messages with the bot, opened once. */
async function openDirect(house: House, person: string): Promise<string> {
  const known = opened.get(house) ?? new Map<string, string>();
  opened.set(house, known);
  const channel = known.get(person);
  if (channel !== undefined) return channel;
  const answer = await house.web.conversations.open({ users: person });
  const id = answer.channel?.id;
  if (!id) throw new Error('Slack opened direct messages without saying where');
  known.set(person, id);
  return id;
}
