import { z } from 'zod';
import type { Place } from '../../kit/notice.js';
import { findNotice } from '../../store/notices.js';
import type { Runtime, SlackPlace } from '../runtime.js';

/** The channel and thread of a place; null while the notice that a thread hangs under does not stand yet. */
export async function findPlace(
  runtime: Runtime,
  workspace: string,
  place: Place,
): Promise<SlackPlace | null> {
  if (place.kind === 'channel') return { channel: place.channel, threadTs: null };
  if (place.kind === 'direct')
    return { channel: await openDirectMessages(runtime, place.person), threadTs: null };
  const parent = await findNotice(runtime.deps.db, workspace, place.under);
  return parent?.channel && parent.ts ? { channel: parent.channel, threadTs: parent.ts } : null;
}

/** The channel of a person's direct messages with the bot, opened once. */
export async function openDirectMessages({ web, directMessages }: Runtime, person: string): Promise<string> {
  const known = directMessages.get(person);
  if (known !== undefined) return known;
  const { channel } = await web.conversations.open({ users: person });
  if (!channel?.id) throw new Error('Slack opened direct messages without saying where');
  directMessages.set(person, channel.id);
  return channel.id;
}

const Page = z.object({
  messages: z
    .array(
      z.looseObject({
        ts: z.string(),
        metadata: z
          .object({ event_type: z.string(), event_payload: z.record(z.string(), z.unknown()) })
          .optional()
          .catch(undefined),
        files: z.array(z.looseObject({ id: z.string() })).optional(),
      }),
    )
    .default([]),
  response_metadata: z.object({ next_cursor: z.string().optional() }).optional(),
});
export type PostedMessage = z.infer<typeof Page>['messages'][number];

const PAGES = 10;
/** Slack's clock and ours need not agree to the second. */
const MARGIN_S = 120;

/** The messages in a place since a moment (ISO 8601), the oldest first, that are what is looked for. */
export async function findPosted(
  { web }: Runtime,
  { channel, threadTs }: SlackPlace,
  since: string | null,
  isIt: (message: PostedMessage) => boolean,
): Promise<readonly PostedMessage[]> {
  const found: PostedMessage[] = [];
  const oldest = (new Date(since ?? 0).getTime() / 1000 - MARGIN_S).toFixed(6);
  let cursor: string | undefined;
  for (let page = 0; page < PAGES; page += 1) {
    const asked = { channel, oldest, limit: 200, include_all_metadata: true, ...(cursor ? { cursor } : {}) };
    const answer = Page.parse(
      threadTs === null
        ? await web.conversations.history(asked)
        : await web.conversations.replies({ ...asked, ts: threadTs }),
    );
    found.push(...answer.messages.filter(isIt));
    cursor = answer.response_metadata?.next_cursor;
    if (!cursor) break;
  }
  return found.sort((a, b) => (a.ts < b.ts ? -1 : 1));
}
