import { addSeconds } from 'date-fns/addSeconds';
import { type Selectable, sql } from 'kysely';
import type { Note } from '../domain/record/note.js';
import { LIVE_STATES } from '../domain/record/tasting.js';
import type { Db } from './db.js';
import type { Tables } from './schema.js';

/** A message by its channel and Slack's id of it. */
export type MessagePlace = { readonly workspace: string; readonly channel: string; readonly ts: string };

/** A note as it is written or edited now; `editedTs` is Slack's id of the edit, when it comes as one. */
type WrittenNote = Omit<Note, 'id' | 'chosenCupId' | 'receivedAt'> & {
  readonly workspace: string;
  readonly editedTs: string | null;
  readonly at: Date;
};

/**
 * Stores a note as its latest edit says, once per message: an older edit or the plain message arriving after
 * its edit changes nothing, and a message deleted before it arrived never counts.
 *
 * @returns the note as it stands now, or null when nothing changed
 */
export async function saveNote(db: Db, note: WrittenNote): Promise<Note | null> {
  const gone = await db
    .selectFrom('gone_message')
    .select('ts')
    .where((eb) => eb.and({ workspace: note.workspace, channel: note.channel, ts: note.ts }))
    .executeTakeFirst();
  if (gone) return null;
  const known = await noteAt(db, note).executeTakeFirst();
  if (!known) return insertNote(db, note);
  const { text, editedTs } = note;
  if (known.deleted_at !== null || editedTs === null) return null;
  if (known.edited_ts !== null && isLater(known.edited_ts, editedTs)) return null;
  await db.updateTable('note').set({ text, edited_ts: editedTs }).where('id', '=', known.id).execute();
  return known.text === text ? null : toNote({ ...known, text });
}

/** Slack's message ids compare as text of equal length; padding keeps that true for shorter ones. */
function isLater(a: string, b: string): boolean {
  return a.padStart(20, '0') >= b.padStart(20, '0');
}

async function insertNote(db: Db, note: WrittenNote): Promise<Note> {
  const { tastingId, threadTs, homeCupId, editedTs, late, at, ...said } = note;
  const row = await db
    .insertInto('note')
    .values({
      ...said,
      tasting_id: tastingId,
      thread_ts: threadTs,
      home_cup_id: homeCupId,
      chosen_cup_id: null,
      edited_ts: editedTs,
      deleted_at: null,
      late: late ? 1 : 0,
      received_at: at.toISOString(),
    })
    .returningAll()
    .executeTakeFirstOrThrow();
  return toNote(row);
}

/** Remembers that a message is gone, so that this wins whatever arrives of it later. */
export async function markGone(db: Db, { workspace, channel, ts }: MessagePlace, at: Date): Promise<void> {
  await db
    .insertInto('gone_message')
    .values({ workspace, channel, ts, at: at.toISOString() })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

/** The note written as this message, deleted or not, or null. */
export async function findNoteByMessage(db: Db, message: MessagePlace): Promise<Note | null> {
  const row = await noteAt(db, message).executeTakeFirst();
  return row ? toNote(row) : null;
}

/** The standing note with this id inside its own workspace, or null when it is gone. */
export async function findNote(db: Db, workspace: string, id: number): Promise<Note | null> {
  const row = await db
    .selectFrom('note')
    .selectAll()
    .where((eb) => eb.and({ workspace, id, deleted_at: null }))
    .executeTakeFirst();
  return row ? toNote(row) : null;
}

/** Where a note that was taken back stood, or null. */
export async function findGoneNote(
  db: Db,
  workspace: string,
  noteId: number,
): Promise<{ readonly channel: string; readonly ts: string } | null> {
  const row = await db
    .selectFrom('note')
    .select(['channel', 'ts'])
    .where((eb) => eb.and({ workspace, id: noteId }))
    .where('deleted_at', 'is not', null)
    .where('source', '=', 'thread')
    .executeTakeFirst();
  return row ?? null;
}

/** Standing notes of one tasting, in the order they were written. */
export async function listNotes(db: Db, tastingId: number, person?: string): Promise<readonly Note[]> {
  let query = standing(db, tastingId).selectAll();
  if (person !== undefined) query = query.where('person', '=', person);
  const rows = await query.orderBy('ts').orderBy('id').execute();
  return rows.map(toNote);
}

/** A person's standing notes that name no cup, at tables that are not decided; at most five. */
export async function listWithoutCup(db: Db, workspace: string, person: string): Promise<readonly Note[]> {
  const rows = await db
    .selectFrom('tasting')
    .innerJoin('note', 'note.tasting_id', 'tasting.id')
    .innerJoin('reading', 'reading.note_id', 'note.id')
    .selectAll('note')
    .where('tasting.workspace', '=', workspace)
    .where('tasting.state', 'in', LIVE_STATES)
    .where((eb) => eb.and({ 'note.person': person, 'note.deleted_at': null, 'reading.needs_cup': 1 }))
    .orderBy('note.id')
    .limit(5)
    .execute();
  return rows.map(toNote);
}

/** The taster's answer to "which cup was that?". */
export async function chooseCup(db: Db, noteId: number, cupId: number): Promise<void> {
  await db.updateTable('note').set({ chosen_cup_id: cupId }).where('id', '=', noteId).execute();
}

/** Notes that came after closing count from now on: the host reopened the table. */
export async function countLateNotes(db: Db, tastingId: number): Promise<void> {
  await db.updateTable('note').set({ late: 0 }).where('tasting_id', '=', tastingId).execute();
}

/** How many standing, counted notes there are and from how many people. */
export async function countNotes(db: Db, tastingId: number) {
  return standing(db, tastingId)
    .select((eb) => [
      eb.fn.countAll<number>().as('notes'),
      eb.fn.count<number>('person').distinct().as('tasters'),
    ])
    .where('late', '=', 0)
    .executeTakeFirstOrThrow();
}

/** Notes written late, changed or taken back after the table closed; erased ones are counted by themselves. */
export async function countAfterClosing(db: Db, tastingId: number, closedAt: Date): Promise<number> {
  const { count } = await db
    .selectFrom('note')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('tasting_id', '=', tastingId)
    .where('person', '<>', '')
    .where((eb) =>
      eb.or([
        eb('late', '=', 1),
        eb('edited_ts', '>', (closedAt.getTime() / 1000).toFixed(6)),
        eb('deleted_at', '>', closedAt.toISOString()),
      ]),
    )
    .executeTakeFirstOrThrow();
  return count;
}

/** Late in its second, where hardly any message of Slack's stands. */
const FIRST_FORM_NOTE = 900_000;

/** A message id of Slack's own shape for a note that is no message; two in one second follow each other. */
export async function freeFormTs(db: Db, workspace: string, channel: string, now: Date): Promise<string> {
  const second = Math.floor(now.getTime() / 1000);
  const row = await db
    .selectFrom('note')
    .select((eb) => eb.fn.max('ts').as('last'))
    .where((eb) => eb.and({ workspace, channel }))
    .where('ts', '>=', `${second}.${FIRST_FORM_NOTE}`)
    .where('ts', '<', `${second + 1}`)
    .executeTakeFirst();
  const micro = row?.last ? Number(row.last.slice(-6)) + 1 : FIRST_FORM_NOTE;
  return micro < 1_000_000 ? `${second}.${micro}` : freeFormTs(db, workspace, channel, addSeconds(now, 1));
}

function noteAt(db: Db, { workspace, channel, ts }: MessagePlace) {
  return db
    .selectFrom('note')
    .selectAll()
    .where((eb) => eb.and({ workspace, channel, ts }));
}

function standing(db: Db, tastingId: number) {
  return db.selectFrom('note').where('tasting_id', '=', tastingId).where('deleted_at', 'is', null);
}

function toNote(row: Selectable<Tables['note']>): Note {
  return {
    id: row.id,
    tastingId: row.tasting_id,
    source: row.source,
    channel: row.channel,
    ts: row.ts,
    threadTs: row.thread_ts,
    person: row.person,
    homeCupId: row.home_cup_id,
    chosenCupId: row.chosen_cup_id,
    text: row.text,
    late: row.late === 1,
    receivedAt: new Date(row.received_at),
  };
}

/** A thread of one of the bot's own tables; `cupId` is null under the table card itself. */
export type TableThread = { readonly tastingId: number; readonly cupId: number | null };

/** The table whose card stands at this message, or null when the thread is none of the bot's tables. */
export async function findTableThread(
  db: Db,
  { workspace, channel, ts }: MessagePlace,
): Promise<TableThread | null> {
  const card = await db
    .selectFrom('notice')
    .select('key')
    .where((eb) => eb.and({ workspace, channel, ts }))
    // As a literal: the index of messages is found by it.
    .where('kind', '=', sql.lit('message'))
    .executeTakeFirst();
  const [kind, number] = card?.key.split(':') ?? [];
  const id = Number(number);
  if (kind === 'table') return { tastingId: id, cupId: null };
  if (kind !== 'cup') return null;
  const cup = await db.selectFrom('cup').select('tasting_id').where('id', '=', id).executeTakeFirst();
  return cup ? { tastingId: cup.tasting_id, cupId: id } : null;
}

/** The messages in a thread that are notes and stand, by their ts. */
export async function listThreadNotes(db: Db, above: MessagePlace): Promise<readonly string[]> {
  const thread = await findTableThread(db, above);
  if (!thread) return [];
  const { channel, ts: thread_ts } = above;
  const rows = await standing(db, thread.tastingId)
    .select('ts')
    .where((eb) => eb.and({ channel, thread_ts, source: 'thread' }))
    .execute();
  return rows.map(({ ts }) => ts);
}

/** The thread of a standing note, or null when it is none or stands in no thread. */
export async function threadOfNote(db: Db, message: MessagePlace): Promise<string | null> {
  const row = await noteAt(db, message).where('deleted_at', 'is', null).executeTakeFirst();
  return row?.thread_ts ?? null;
}
