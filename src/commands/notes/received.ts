import type { Note } from '../../domain/record/note.js';
import { markChanged } from '../../store/changed.js';
import type { Db } from '../../store/db.js';
import { findNoteByMessage, findTableThread, saveNote, type TableThread } from '../../store/notes.js';
import { withdrawNote } from '../../store/own-data.js';
import { forgetCorrections } from '../../store/readings.js';
import type { Answer, Deps, TypedHandler } from '../common/bot.js';
import type { Received, ReceivedMessage } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { houseVocabulary, readStoredNotes } from '../common/table-notes.js';

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
      if (mayBeNote && (await findTableThread(deps.db, { workspace, channel, ts: threadTs }))) return null;
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

/** Does this message belong to one of the bot's own tables? Nothing else is ever stored. */
async function isTableMessage(db: Db, message: ReceivedMessage): Promise<boolean> {
  const isNew = message.kind !== 'message_deleted' && message.editedTs === null;
  if (message.threadTs === null && isNew) return false;
  return (await threadOf(db, message)) !== null;
}

/** Keeps, changes or withdraws a note, reads it, and has its table shown anew. Twice is the same as once. */
async function noteReceived({ db, clock }: Deps, message: ReceivedMessage): Promise<void> {
  const now = clock.now();
  if (message.kind === 'message_deleted') return noteDeleted(db, message, now);
  const { workspace, channel, ts, threadTs, person, text, editedTs } = message;
  const thread = await threadOf(db, message);
  if (!thread) return;
  const setting = await requireTable(db, workspace, thread.tastingId);
  if (setting.tasting.state === 'cancelled') return;
  const note = await saveNote(db, {
    workspace,
    tastingId: thread.tastingId,
    source: 'thread',
    channel,
    ts,
    threadTs,
    person,
    homeCupId: thread.cupId,
    text,
    editedTs,
    late: writtenAfterClosing(ts, setting.tasting.closedAt),
    at: now,
  });
  if (note === null) return;
  if (editedTs !== null) await forgetCorrections(db, note.id);
  await readStoredNotes(db, setting, [note], await houseVocabulary(db, workspace));
  await showAnew(db, workspace, note, now);
}

async function noteDeleted(db: Db, message: ReceivedMessage, now: Date): Promise<void> {
  const note = await findNoteByMessage(db, message);
  await withdrawNote(db, message, now);
  if (note) await showAnew(db, message.workspace, note, now);
}

async function threadOf(
  db: Db,
  { workspace, channel, ts, threadTs }: ReceivedMessage,
): Promise<TableThread | null> {
  if (threadTs !== null) return findTableThread(db, { workspace, channel, ts: threadTs });
  const note = await findNoteByMessage(db, { workspace, channel, ts });
  return note ? { tastingId: note.tastingId, cupId: note.homeCupId } : null;
}

/** Slack's message ids are the instant of writing, in seconds. */
function writtenAfterClosing(ts: string, closedAt: Date | null): boolean {
  return closedAt !== null && Number.parseFloat(ts) * 1000 > closedAt.getTime();
}

async function showAnew(db: Db, workspace: string, note: Note, now: Date): Promise<void> {
  await markChanged(db, workspace, `note:${note.id}`, now);
  await markChanged(db, workspace, `tasting:${note.tastingId}`, now);
}
