import { markChanged } from '../../store/changed.js';
import { forgetCorrections } from '../../store/corrections.js';
import type { DbOrTransaction } from '../../store/db.js';
import { keepNote } from '../../store/keep-note.js';
import { findNoteByMessage, withdrawNote } from '../../store/notes.js';
import { findTableThread, type TableThread } from '../../store/threads.js';
import type { Deps } from '../common/bot.js';
import { readStoredNotes } from '../common/read-notes.js';
import type { NoteDesk } from './note-desk.js';
import type { MessageChange } from './slack-event.js';

type Place = { readonly workspace: string; readonly channel: string };

/** Does this message belong to one of the bot's own tables? Nothing else is ever stored. */
export async function isTableMessage(
  db: DbOrTransaction,
  place: Place,
  change: MessageChange,
): Promise<boolean> {
  if (change.threadTs !== null) {
    return (await findTableThread(db, place.workspace, place.channel, change.threadTs)) !== null;
  }
  if (change.kind === 'written' && change.editedTs === null) return false;
  return (await findNoteByMessage(db, place.workspace, place.channel, change.ts)) !== null;
}

/** Keeps, changes or withdraws a note, reads it, and has its table shown anew. Twice is the same as once. */
export async function noteReceived(
  deps: Deps,
  desk: NoteDesk,
  place: Place,
  change: MessageChange,
): Promise<void> {
  if (change.kind === 'deleted') return noteDeleted(deps, place, change.ts);
  const thread = await threadOf(deps.db, place, change);
  if (!thread) return;
  const setting = await desk.table(thread.tastingId);
  if (setting.tasting.state === 'cancelled') return;
  const now = deps.clock.now();
  const note = await keepNote(deps.db, {
    workspace: place.workspace,
    tastingId: thread.tastingId,
    source: 'thread',
    channel: place.channel,
    ts: change.ts,
    threadTs: change.threadTs,
    person: change.user,
    homeCupId: thread.cupId,
    text: change.text,
    editedTs: change.editedTs,
    late: writtenAfterClosing(change.ts, setting.tasting.closedAt),
    at: now,
  });
  if (note === null) return;
  if (change.editedTs !== null) await forgetCorrections(deps.db, note.id);
  await readStoredNotes(deps.db, setting, [note], await desk.vocabulary());
  await showAnew(deps.db, place.workspace, note.id, thread.tastingId, now);
}

async function noteDeleted(deps: Deps, place: Place, ts: string): Promise<void> {
  const now = deps.clock.now();
  const note = await findNoteByMessage(deps.db, place.workspace, place.channel, ts);
  await withdrawNote(deps.db, place.workspace, place.channel, ts, now);
  if (note) await showAnew(deps.db, place.workspace, note.id, note.tastingId, now);
}

async function threadOf(
  db: DbOrTransaction,
  place: Place,
  change: MessageChange,
): Promise<TableThread | null> {
  if (change.threadTs !== null) return findTableThread(db, place.workspace, place.channel, change.threadTs);
  const note = await findNoteByMessage(db, place.workspace, place.channel, change.ts);
  return note ? { tastingId: note.tastingId, cupId: note.homeCupId } : null;
}

/** Slack's message ids are the instant of writing, in seconds. */
function writtenAfterClosing(ts: string, closedAt: Date | null): boolean {
  return closedAt !== null && Number.parseFloat(ts) * 1000 > closedAt.getTime();
}

async function showAnew(
  db: DbOrTransaction,
  workspace: string,
  noteId: number,
  tastingId: number,
  now: Date,
): Promise<void> {
  await markChanged(db, workspace, `note:${noteId}`, now);
  await markChanged(db, workspace, `tasting:${tastingId}`, now);
}
