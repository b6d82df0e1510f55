import { markChanged } from '../../store/changed.js';
import { findTableThread } from '../../store/threads.js';
import type { Answer, Deps, Receiver, TypedHandler } from '../common/bot.js';
import { type Received, type Typed, wordsForBot } from '../common/intake.js';
import { createNoteDesk } from './note-desk.js';
import { isTableMessage, noteReceived } from './note-received.js';
import { type MentionEvent, type MessageEvent, messageChange, readEnvelope } from './slack-event.js';

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

/** Answers words said to the bot, and knows which words are its verbs. */
type Speech = { readonly typed: TypedHandler; readonly isVerb: (words: string) => boolean };

/** Handles stored events one after another, in one transaction. */
export function createReceiver(deps: Deps, workspace: string, { typed, isVerb }: Speech): Receiver {
  let desk = createNoteDesk(deps.db, workspace);

  /** What is said to the bot may change a table or teach a word. */
  async function say(said: Typed): Promise<Answer> {
    desk = createNoteDesk(deps.db, workspace);
    return typed(deps, said);
  }

  async function mentioned(event: MentionEvent, botUser: string | null): Promise<Answer | null> {
    const words = wordsForBot(event.text ?? '', botUser);
    // Under a table, words that are no verb are a note: the message event of the same words keeps it.
    const noted = event.thread_ts !== undefined && words !== '' && !isVerb(words);
    if (noted && (await findTableThread(deps.db, workspace, event.channel, event.thread_ts ?? '')))
      return null;
    return say({
      who: { workspace, person: event.user },
      channel: event.channel,
      threadTs: event.thread_ts ?? event.ts,
      words,
      by: 'mention',
    });
  }

  async function message(event: MessageEvent, botUser: string | null): Promise<Answer | null> {
    const change = messageChange(event);
    if (!change) return null;
    if (event.channel_type === 'im') {
      if (change.kind !== 'written') return null;
      return say({
        who: { workspace, person: change.user },
        channel: event.channel,
        threadTs: null,
        words: wordsForBot(change.text, botUser),
        by: 'mention',
      });
    }
    if (change.kind === 'written') {
      const words = wordsForBot(change.text, botUser);
      if (words !== change.text.trim() && isVerb(words)) return null;
    }
    await noteReceived(deps, desk, { workspace, channel: event.channel }, change);
    return null;
  }

  return async (received) => {
    const envelope = readEnvelope(received.body);
    if (!envelope) return null;
    const { event, botUser } = envelope;
    switch (event.type) {
      case 'app_home_opened':
        await markChanged(deps.db, workspace, `person:${event.user}`, deps.clock.now());
        return null;
      case 'member_joined_channel':
        await markChanged(deps.db, workspace, `channel:${event.channel}`, deps.clock.now());
        return null;
      case 'app_mention':
        return mentioned(event, botUser);
      case 'message':
        return message(event, botUser);
    }
  };
}
