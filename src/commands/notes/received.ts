import { markChanged } from '../../store/changed.js';
import { findTableThread } from '../../store/threads.js';
import type { Answer, Deps, TypedHandler } from '../common/bot.js';
import type { Received } from '../common/intake.js';
import { isTableMessage, noteReceived } from './note-received.js';

/** Only what is about the bot's own tables, or said to the bot itself, is ever stored. */
export async function concerns({ db }: Deps, received: Received): Promise<boolean> {
  switch (received.kind) {
    case 'app_home_opened':
    case 'app_mention':
    case 'member_joined_channel':
      return true;
    case 'message_deleted':
      return isTableMessage(db, received);
    case 'message':
    case 'message_changed':
      return received.isDirect || isTableMessage(db, received);
  }
}

/** Answers words said to the bot, and knows which words are its verbs. */
type Speech = { readonly typed: TypedHandler; readonly isVerb: (words: string) => boolean };

/** Handles a stored event in the transaction that `deps.db` is. */
export async function handleReceived(
  deps: Deps,
  received: Received,
  { typed, isVerb }: Speech,
): Promise<Answer | null> {
  const { workspace } = received;
  switch (received.kind) {
    case 'app_home_opened':
      await markChanged(deps.db, workspace, `person:${received.person}`, deps.clock.now());
      return null;
    case 'member_joined_channel':
      await markChanged(deps.db, workspace, `channel:${received.channel}`, deps.clock.now());
      return null;
    case 'app_mention': {
      const { person, channel, ts, threadTs, words } = received;
      // Under a table, words that are no verb are a note: the message event of the same words keeps it.
      const mayBeNote = threadTs !== null && words !== '' && !isVerb(words);
      if (mayBeNote && (await findTableThread(deps.db, workspace, channel, threadTs))) return null;
      const who = { workspace, person };
      return typed(deps, { who, channel, threadTs: threadTs ?? ts, words, by: 'mention' });
    }
    case 'message':
    case 'message_changed': {
      const { person, channel, text, words, isDirect } = received;
      const who = { workspace, person };
      if (isDirect) return typed(deps, { who, channel, threadTs: null, words, by: 'mention' });
      // Said to the bot: the mention event of the same words carries it out.
      if (words === text.replaceAll('\u00a0', ' ').trim() || !isVerb(words))
        await noteReceived(deps, received);
      return null;
    }
    case 'message_deleted':
      await noteReceived(deps, received);
      return null;
  }
}
