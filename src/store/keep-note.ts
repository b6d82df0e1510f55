import type { Note } from '../domain/record/note.js';
import type { DbOrTransaction } from './db.js';
import { type MessagePlace, noteRowsAt, toNote } from './notes.js';
import { prepared } from './prepared.js';

export type WrittenNote = {
  readonly workspace: string;
  readonly tastingId: number;
  readonly source: Note['source'];
  readonly channel: string;
  readonly ts: string;
  readonly threadTs: string | null;
  readonly person: string;
  readonly homeCupId: number | null;
  readonly text: string;
  /** Slack's id of the edit, when it comes as one. */
  readonly editedTs: string | null;
  readonly late: boolean;
  readonly at: Date;
};

const goneAt = prepared<MessagePlace>()((db, given) =>
  db
    .selectFrom('gone_message')
    .select('ts')
    .where('workspace', '=', given('workspace'))
    .where('channel', '=', given('channel'))
    .where('ts', '=', given('ts')),
);

const change = prepared<{ readonly id: number; readonly text: string; readonly editedTs: string }>()(
  (db, given) =>
    db
      .updateTable('note')
      .set({ text: given('text'), edited_ts: given('editedTs') })
      .where('id', '=', given('id')),
);

type NewRow = MessagePlace & {
  readonly tastingId: number;
  readonly source: Note['source'];
  readonly threadTs: string | null;
  readonly person: string;
  readonly homeCupId: number | null;
  readonly text: string;
  readonly editedTs: string | null;
  readonly late: number;
  readonly at: string;
};

const insert = prepared<NewRow>()((db, given) =>
  db
    .insertInto('note')
    .values({
      workspace: given('workspace'),
      tasting_id: given('tastingId'),
      source: given('source'),
      channel: given('channel'),
      ts: given('ts'),
      thread_ts: given('threadTs'),
      person: given('person'),
      home_cup_id: given('homeCupId'),
      chosen_cup_id: null,
      text: given('text'),
      edited_ts: given('editedTs'),
      deleted_at: null,
      late: given('late'),
      received_at: given('at'),
    })
    .returningAll(),
);

/**
 * Keeps a note as its latest edit says, once per message: an older edit or the plain message arriving after
 * its edit changes nothing, and a message deleted before it arrived never counts.
 *
 * @returns the note as it is kept now, or null when nothing changed
 */
export async function keepNote(db: DbOrTransaction, note: WrittenNote): Promise<Note | null> {
  const { workspace, channel, ts, text, editedTs } = note;
  const [gone] = await goneAt(db, { workspace, channel, ts });
  if (gone) return null;
  const [known] = await noteRowsAt(db, { workspace, channel, ts });
  if (!known) return insertNote(db, note);
  if (known.deleted_at !== null || editedTs === null) return null;
  if (known.edited_ts !== null && later(known.edited_ts, editedTs)) return null;
  await change(db, { id: known.id, text, editedTs });
  return known.text === text ? null : toNote({ ...known, text, edited_ts: editedTs });
}

/** Slack's message ids compare as text of equal length; padding keeps that true for shorter ones. */
function later(a: string, b: string): boolean {
  return a.padStart(20, '0') >= b.padStart(20, '0');
}

async function insertNote(db: DbOrTransaction, { at, late, ...note }: WrittenNote): Promise<Note> {
  const [row] = await insert(db, { ...note, late: late ? 1 : 0, at: at.toISOString() });
  if (!row) throw new Error('a note was kept and is gone');
  return toNote(row);
}
