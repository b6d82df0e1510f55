import { z } from 'zod';
import { listStandingMessages } from '../store/notices.js';
import { listThreadNotes } from '../store/threads.js';
import { readFailure } from './call-outcome.js';
import { takeIn } from './event-intake.js';
import { type EventEnvelope, readEvent } from './events.js';
import type { House } from './house.js';

const Page = z.object({
  messages: z
    .array(
      z.looseObject({
        ts: z.string(),
        thread_ts: z.string().optional(),
        user: z.string().optional(),
        text: z.string().optional(),
        edited: z.looseObject({ ts: z.string() }).optional(),
      }),
    )
    .default([]),
  response_metadata: z.object({ next_cursor: z.string().optional() }).optional(),
});
type Reply = z.infer<typeof Page>['messages'][number];

const TRIES = 5;
/** Threads of messages older than this are not read again. */
const OLDEST_MS = 30 * 24 * 60 * 60 * 1000;
/** A command in a mention is not carried out long after it was written. */
const MENTION_MS = 60 * 60 * 1000;

/** Reads the bot's open threads again, for what was written while the bot was not there to hear of it. */
export async function rereadThreads(house: House): Promise<void> {
  const { db, clock, log } = house.deps;
  const since = new Date(clock.now().getTime() - OLDEST_MS);
  const messages = await listStandingMessages(db, house.me.workspace, since);
  let found = 0;
  for (const { channel, ts } of messages) {
    if (!(await isOpen(house, channel, ts))) continue;
    found += await rereadThread(house, channel, ts);
  }
  if (found > 0) log.info({ found }, 'messages written meanwhile were found');
}

/** Reads one thread again; returns how many of its messages were new to the inbox. */
export async function rereadThread(house: House, channel: string, threadTs: string): Promise<number> {
  const { db } = house.deps;
  // Known before the reading, so that a note which comes in meanwhile is not taken for a deleted one.
  const gone = new Set(await listThreadNotes(db, house.me.workspace, channel, threadTs));
  let found = 0;
  let cursor: string | undefined;
  do {
    const answer = await readPage(house, channel, threadTs, cursor);
    if (answer === null) return found;
    for (const reply of answer.messages) {
      gone.delete(reply.ts);
      if (reply.ts !== threadTs) found += await takeReply(house, channel, threadTs, reply);
    }
    cursor = answer.response_metadata?.next_cursor;
  } while (cursor);
  for (const ts of gone) if (await takeIn(house, asDeletion(house, channel, threadTs, ts))) found += 1;
  return found;
}

async function readPage(
  house: House,
  channel: string,
  ts: string,
  cursor: string | undefined,
): Promise<z.infer<typeof Page> | null> {
  for (let attempt = 0; attempt < TRIES; attempt += 1) {
    try {
      const page = { channel, ts, limit: 200, ...(cursor ? { cursor } : {}) };
      return Page.parse(await house.web.conversations.replies(page));
    } catch (error) {
      const failure = readFailure(error);
      house.deps.log.warn({ failure, channel }, 'a thread could not be read again');
      if (failure.kind === 'refused') return null;
      const waitMs = failure.kind === 'rate limited' ? failure.retryMs : 1000 * 2 ** attempt;
      await new Promise((resolve) => setTimeout(resolve, waitMs));
    }
  }
  return null;
}

/** The reply as the events that would have come; an edit makes it another one, as its words are others. */
async function takeReply(house: House, channel: string, threadTs: string, reply: Reply): Promise<number> {
  const { botUserId, workspace } = house.me;
  const event = { ...reply, type: 'message', channel, thread_ts: threadTs };
  const eventId = `reread:${channel}:${reply.ts}:${reply.edited?.ts ?? ''}`;
  let found = (await takeIn(house, { team_id: workspace, event_id: eventId, event })) ? 1 : 0;
  const age = house.deps.clock.now().getTime() - Number(reply.ts) * 1000;
  if (!reply.text?.includes(`<@${botUserId}`) || age > MENTION_MS) return found;
  const mention = { ...event, type: 'app_mention' };
  if (await takeIn(house, { team_id: workspace, event_id: eventId, event: mention })) found += 1;
  return found;
}

/** A note whose message is not in its thread any more. */
function asDeletion(house: House, channel: string, threadTs: string, ts: string): EventEnvelope {
  const previous = { ts, thread_ts: threadTs };
  return {
    team_id: house.me.workspace,
    event_id: `reread:${channel}:${ts}:deleted`,
    event: {
      type: 'message',
      subtype: 'message_deleted',
      channel,
      ts,
      deleted_ts: ts,
      previous_message: previous,
    },
  };
}

/** Would a reply here still be the bot's business? */
function isOpen(house: House, channel: string, threadTs: string): Promise<boolean> {
  const event = { type: 'message', user: 'U0', channel, ts: threadTs, thread_ts: threadTs, text: '' };
  const envelope = { team_id: house.me.workspace, event_id: 'none', event };
  return house.bot.concerns(house.deps, readEvent('message', envelope, house.me, house.deps.clock.now()));
}
