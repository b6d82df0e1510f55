import { addSeconds } from 'date-fns/addSeconds';
import type { Selectable } from 'kysely';
import { z } from 'zod';
import type { Note } from '../domain/record/note.js';
import { LIVE_STATES } from '../domain/record/tasting.js';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';
import type { NoteTable } from './schema.js';

const Source = z.enum(['thread', 'form', 'paper']);

/**
 * Withdraws the note of a deleted message and remembers the delete, so that it wins whatever arrives later.
 * The words themselves are not kept.
 */
export async function withdrawNote(
  db: DbOrTransaction,
  workspace: string,
  channel: string,
  ts: string,
  at: Date,
): Promise<void> {
  await db
    .insertInto('gone_message')
    .values({ workspace, channel, ts, at: at.toISOString() })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
  const row = await db
    .updateTable('note')
    .set({ deleted_at: at.toISOString(), text: '' })
    .where('workspace', '=', workspace)
    .where('channel', '=', channel)
    .where('ts', '=', ts)
    .where('deleted_at', 'is', null)
    .returning('id')
    .executeTakeFirst();
  if (row) await db.deleteFrom('reading').where('note_id', '=', row.id).execute();
  if (row) await db.deleteFrom('mention').where('note_id', '=', row.id).execute();
  // "Which cup was that?" quotes the note.
  if (row)
    await db
      .deleteFrom('notice')
      .where('workspace', '=', workspace)
      .where('subject', '=', `note:${row.id}`)
      .where('kind', '=', 'private')
      .execute();
}

/** A message by its channel and Slack's id of it. */
export type MessagePlace = { readonly workspace: string; readonly channel: string; readonly ts: string };

/** The row of the note written as this message, deleted or not; none or one. */
export const noteRowsAt = prepared<MessagePlace>()((db, given) =>
  db
    .selectFrom('note')
    .selectAll()
    .where('workspace', '=', given('workspace'))
    .where('channel', '=', given('channel'))
    .where('ts', '=', given('ts')),
);

/** The note written as this message, deleted or not, or null. */
export async function findNoteByMessage(
  db: DbOrTransaction,
  workspace: string,
  channel: string,
  ts: string,
): Promise<Note | null> {
  const [row] = await noteRowsAt(db, { workspace, channel, ts });
  return row ? toNote(row) : null;
}

const standing = prepared<{ readonly workspace: string; readonly id: number }>()((db, given) =>
  db
    .selectFrom('note')
    .selectAll()
    .where('workspace', '=', given('workspace'))
    .where('id', '=', given('id'))
    .where('deleted_at', 'is', null),
);

/** The standing note with this id inside its own workspace, or null when it is gone. */
export async function findNote(db: DbOrTransaction, workspace: string, id: number): Promise<Note | null> {
  const [row] = await standing(db, { workspace, id });
  return row ? toNote(row) : null;
}

/** Standing notes of one tasting, in the order they were written. */
export async function listNotes(
  db: DbOrTransaction,
  tastingId: number,
  person?: string,
): Promise<readonly Note[]> {
  const rows = await db
    .selectFrom('note')
    .selectAll()
    .where('tasting_id', '=', tastingId)
    .where('deleted_at', 'is', null)
    .$if(person !== undefined, (query) => query.where('person', '=', person ?? ''))
    .orderBy('ts')
    .orderBy('id')
    .execute();
  return rows.map(toNote);
}

const choose = prepared<{ readonly noteId: number; readonly cupId: number }>()((db, given) =>
  db
    .updateTable('note')
    .set({ chosen_cup_id: given('cupId') })
    .where('id', '=', given('noteId')),
);

/** The taster's answer to "which cup was that?". */
export async function chooseCup(db: DbOrTransaction, noteId: number, cupId: number): Promise<void> {
  await choose(db, { noteId, cupId });
}

/** Notes that came after closing count from now on: the host reopened the table. */
export async function countLateNotes(db: DbOrTransaction, tastingId: number): Promise<void> {
  await db.updateTable('note').set({ late: 0 }).where('tasting_id', '=', tastingId).execute();
}

/** How many standing, counted notes there are and from how many people. */
export async function countNotes(
  db: DbOrTransaction,
  tastingId: number,
): Promise<{ readonly notes: number; readonly tasters: number }> {
  const row = await db
    .selectFrom('note')
    .select((eb) => [
      eb.fn.countAll<number>().as('notes'),
      eb.fn.count<number>('person').distinct().as('tasters'),
    ])
    .where('tasting_id', '=', tastingId)
    .where('deleted_at', 'is', null)
    .where('late', '=', 0)
    .executeTakeFirst();
  return { notes: row?.notes ?? 0, tasters: row?.tasters ?? 0 };
}

/** A note as its row says. */
export function toNote(row: Selectable<NoteTable>): Note {
  return {
    id: row.id,
    tastingId: row.tasting_id,
    source: Source.parse(row.source),
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

/** Notes written late, changed or taken back after the table closed; erased ones are counted by themselves. */
export async function countAfterClosing(
  db: DbOrTransaction,
  tastingId: number,
  closedAt: Date,
): Promise<number> {
  const seconds = (closedAt.getTime() / 1000).toFixed(6);
  const row = await db
    .selectFrom('note')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('tasting_id', '=', tastingId)
    .where('person', '<>', '')
    .where((eb) =>
      eb.or([
        eb('late', '=', 1),
        eb('edited_ts', '>', seconds),
        eb('deleted_at', '>', closedAt.toISOString()),
      ]),
    )
    .executeTakeFirst();
  return row?.count ?? 0;
}

/** A message id of Slack's own shape for a note that is no message; two in one second follow each other. */
export async function freeFormTs(
  db: DbOrTransaction,
  workspace: string,
  channel: string,
  now: Date,
): Promise<string> {
  const second = Math.floor(now.getTime() / 1000);
  const row = await db
    .selectFrom('note')
    .select((eb) => eb.fn.max('ts').as('last'))
    .where('workspace', '=', workspace)
    .where('channel', '=', channel)
    .where('ts', '>=', `${second}.${FIRST_FORM_NOTE}`)
    .where('ts', '<', `${second + 1}`)
    .executeTakeFirst();
  const micro = row?.last ? Number(row.last.slice(-6)) + 1 : FIRST_FORM_NOTE;
  return micro < 1_000_000 ? `${second}.${micro}` : freeFormTs(db, workspace, channel, addSeconds(now, 1));
}

/** Late in its second, where hardly any message of Slack's stands. */
const FIRST_FORM_NOTE = 900_000;

const withoutCup = prepared<{ readonly workspace: string; readonly person: string }>()((db, given) =>
  db
    .selectFrom('tasting')
    .innerJoin('note', 'note.tasting_id', 'tasting.id')
    .innerJoin('reading', 'reading.note_id', 'note.id')
    .selectAll('note')
    .where('tasting.workspace', '=', given('workspace'))
    .where('tasting.state', 'in', LIVE_STATES)
    .where('note.person', '=', given('person'))
    .where('note.deleted_at', 'is', null)
    .where('reading.needs_cup', '=', 1)
    .orderBy('note.id')
    .limit(5),
);

/** A person's standing notes that name no cup, at tables that are not decided. */
export async function listWithoutCup(
  db: DbOrTransaction,
  workspace: string,
  person: string,
): Promise<readonly Note[]> {
  const rows = await withoutCup(db, { workspace, person });
  return rows.map(toNote);
}
