import { z } from 'zod';
import type { House } from './house.js';
import type { Target } from './slack-target.js';

const Page = z.object({
  messages: z
    .array(
      z.looseObject({
        ts: z.string(),
        user: z.string().optional(),
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

/** The bot's messages in a place since a moment, the oldest first, that are what is looked for. */
export async function findPosted(
  house: House,
  target: Target,
  since: Date,
  isIt: (message: PostedMessage) => boolean,
): Promise<readonly PostedMessage[]> {
  const found: PostedMessage[] = [];
  const oldest = (since.getTime() / 1000 - MARGIN_S).toFixed(6);
  let cursor: string | undefined;
  for (let page = 0; page < PAGES; page += 1) {
    const common = {
      channel: target.channel,
      oldest,
      limit: 200,
      include_all_metadata: true,
      ...(cursor ? { cursor } : {}),
    };
    const answer = Page.parse(
      target.threadTs === null
        ? await house.web.conversations.history(common)
        : await house.web.conversations.replies({ ...common, ts: target.threadTs }),
    );
    found.push(...answer.messages.filter(isIt));
    cursor = answer.response_metadata?.next_cursor;
    if (!cursor) break;
  }
  return found.sort((a, b) => (a.ts < b.ts ? -1 : 1));
}
