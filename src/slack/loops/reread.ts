import { setTimeout as pause } from 'node:timers/promises';
import { z } from 'zod';
import { listThreadNotes } from '../../store/notes.js';
import { listStandingMessages } from '../../store/notices.js';
import { takeIn } from '../in/event-listener.js';
import { type EventEnvelope, SlackMessage } from '../in/slack-event.js';
import { readFailure } from '../out/call-failure.js';
import type { Runtime } from '../runtime.js';

const Page = z.object({
  messages: z.array(SlackMessage).default([]),
  response_metadata: z.object({ next_cursor: z.string().optional() }).optional(),
});

const TRIES = 5;
/** Threads of messages older than this are not read again. */
const OLDEST_MS = 30 * 24 * 60 * 60 * 1000;
/** A command in a mention is not carried out long after it was written. */
const MENTION_MS = 60 * 60 * 1000;

/** Reads the bot's open threads again, for what was written while the bot was not there to hear of it. */
export async function rereadThreads(runtime: Runtime): Promise<void> {
  const { bot, deps, me } = runtime;
  const since = new Date(deps.clock.now().getTime() - OLDEST_MS);
  let found = 0;
  for (const { channel, ts } of await listStandingMessages(deps.db, me.workspace, since)) {
    // Would a reply here still be the bot's business?
    const gone = { workspace: me.workspace, kind: 'message_deleted', channel, ts, threadTs: ts } as const;
    if (await bot.concerns(deps, gone)) found += await rereadThread(runtime, channel, ts);
  }
  if (found > 0) deps.log.info({ found }, 'messages written meanwhile were found');
}

/** Reads one thread again; returns how many of its messages were new to the inbox. */
export async function rereadThread(runtime: Runtime, channel: string, threadTs: string): Promise<number> {
  const { deps, me } = runtime;
  // Known before the reading, so that a note which comes in meanwhile is not taken for a deleted one.
  const gone = new Set(await listThreadNotes(deps.db, { workspace: me.workspace, channel, ts: threadTs }));
  let found = 0;
  let cursor: string | undefined;
  do {
    const page = await readPage(runtime, channel, threadTs, cursor);
    if (page === null) return found;
    for (const reply of page.messages) {
      gone.delete(reply.ts);
      if (reply.ts !== threadTs) found += await takeReply(runtime, channel, threadTs, reply);
    }
    cursor = page.response_metadata?.next_cursor;
  } while (cursor);
  for (const ts of gone) {
    const previous_message = { ts, thread_ts: threadTs };
    const deleted = { subtype: 'message_deleted', ts, deleted_ts: ts, previous_message };
    const event = { type: 'message' as const, channel, ...deleted };
    const event_id = `reread:${channel}:${ts}:deleted`;
    if (await takeIn(runtime, { team_id: me.workspace, event_id, event })) found += 1;
  }
  return found;
}

async function readPage({ web, deps }: Runtime, channel: string, ts: string, cursor?: string) {
  for (let attempt = 0; attempt < TRIES; attempt += 1) {
    try {
      const page = { channel, ts, limit: 200, ...(cursor ? { cursor } : {}) };
      return Page.parse(await web.conversations.replies(page));
    } catch (error) {
      const failure = readFailure(error);
      deps.log.warn({ failure, channel }, 'a thread could not be read again');
      if (failure.kind === 'refused') return null;
      await pause(failure.kind === 'rate limited' ? failure.retryMs : 1000 * 2 ** attempt);
    }
  }
  return null;
}

/** The reply as the events that would have come; an edit or a deletion makes it another one. */
async function takeReply(runtime: Runtime, channel: string, threadTs: string, reply: SlackMessage) {
  const { workspace, botUserId } = runtime.me;
  const version = reply.subtype === 'tombstone' ? 'deleted' : (reply.edited?.ts ?? '');
  const eventId = `reread:${channel}:${reply.ts}:${version}`;
  const inThread = { ...reply, channel, thread_ts: threadTs };
  const take = async (event: EventEnvelope['event']) =>
    (await takeIn(runtime, { team_id: workspace, event_id: eventId, event })) ? 1 : 0;
  const found = await take({ ...inThread, type: 'message' });
  const { user, text } = reply;
  const ageMs = runtime.deps.clock.now().getTime() - Number(reply.ts) * 1000;
  if (!user || !text?.includes(`<@${botUserId}`) || ageMs > MENTION_MS) return found;
  return found + (await take({ ...inThread, user, type: 'app_mention' }));
}
