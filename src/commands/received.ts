import { markChanged } from '../store/changed.js';
import { findTableThread } from '../store/threads.js';
import type { Answer } from './answer.js';
import type { Deps } from './deps.js';
import type { TypedHandler } from './feature.js';
import type { Received } from './intake.js';
import { isTableMessage, noteReceived } from './note-received.js';
import { type MessageEvent, messageChange, readEnvelope } from './slack-event.js';
import { isVerb, wordsForBot } from './verbs.js';

/** Only what is about the bot's own tables, or said to the bot itself, is ever stored. */
export async function concerns(deps: Deps, received: Received): Promise<boolean> {
  const envelope = readEnvelope(received.body);
  if (!envelope) return false;
  const { event } = envelope;
  if (event.type === 'app_home_opened') return event.tab !== 'messages';
  if (event.type === 'app_mention') return event.edited === undefined;
  if (event.type === 'member_joined_channel') return event.user === envelope.botUser;
  if (event.channel_type === 'im')
    return messageChange(event)?.kind === 'written' && event.subtype !== 'message_changed';
  const change = messageChange(event);
  return (
    change !== null &&
    isTableMessage(deps.db, { workspace: received.workspace, channel: event.channel }, change)
  );
}

/** Handles one stored event; `typed` answers words said to the bot. */
export async function received(deps: Deps, event: Received, typed: TypedHandler): Promise<Answer | null> {
  const envelope = readEnvelope(event.body);
  if (!envelope) return null;
  const { event: inner, botUser } = envelope;
  const workspace = event.workspace;
  switch (inner.type) {
    case 'app_home_opened':
      await markChanged(deps.db, workspace, `person:${inner.user}`, deps.clock.now());
      return null;
    case 'member_joined_channel':
      await markChanged(deps.db, workspace, `channel:${inner.channel}`, deps.clock.now());
      return null;
    case 'app_mention': {
      const words = wordsForBot(inner.text ?? '', botUser);
      // Under a table, words that are no verb are a note: the message event of the same words keeps it.
      const noted = inner.thread_ts !== undefined && words !== '' && !isVerb(words);
      if (noted && (await findTableThread(deps.db, workspace, inner.channel, inner.thread_ts ?? '')))
        return null;
      return typed(deps, {
        who: { workspace, person: inner.user },
        channel: inner.channel,
        threadTs: inner.thread_ts ?? inner.ts,
        words,
        by: 'mention',
      });
    }
    case 'message':
      return message(deps, workspace, inner, botUser, typed);
  }
}

async function message(
  deps: Deps,
  workspace: string,
  event: MessageEvent,
  botUser: string | null,
  typed: TypedHandler,
): Promise<Answer | null> {
  const change = messageChange(event);
  if (!change) return null;
  if (event.channel_type === 'im') {
    if (change.kind !== 'written') return null;
    const words = wordsForBot(change.text, botUser);
    return typed(deps, {
      who: { workspace, person: change.user },
      channel: event.channel,
      threadTs: null,
      words,
      by: 'mention',
    });
  }
  const place = { workspace, channel: event.channel };
  if (change.kind === 'deleted') {
    await noteReceived(deps, place, change);
    return null;
  }
  const words = wordsForBot(change.text, botUser);
  if (words !== change.text.trim() && isVerb(words)) return null;
  await noteReceived(deps, place, change);
  return null;
}
