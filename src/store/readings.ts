import { z } from 'zod';
import type { NotedMention, NoteReading, ReadNote } from '../domain/record/note.js';
import type { DbOrTransaction } from './db.js';
import { findNote, listNotes } from './notes.js';

const Order = z.array(z.array(z.number().int()));
const Liking = z.array(z.tuple([z.number().int(), z.number()]));
const Worst = z.array(z.number().int());
const Span = z.tuple([z.number().int(), z.number().int()]);
const Unplaced = z.array(z.object({ words: z.string(), span: Span }));
const Polarity = z.enum(['present', 'denied', 'compared']);
const Degree = z.enum(['slight', 'plain', 'strong']);

/** Standing notes of one tasting with what each was understood to say. */
export async function listReadNotes(
  db: DbOrTransaction,
  tastingId: number,
  person?: string,
): Promise<readonly ReadNote[]> {
  const notes = await listNotes(db, tastingId, person);
  const readings = await readingsOf(db, { tastingId });
  return notes.map((note) => ({ ...note, reading: readings.get(note.id) ?? NOTHING_READ }));
}

const NOTHING_READ: NoteReading = {
  mentions: [],
  order: null,
  liking: new Map(),
  worst: [],
  needsCup: false,
  unplaced: [],
};

/** One standing note with what it was understood to say, or null. */
export async function findReadNote(
  db: DbOrTransaction,
  workspace: string,
  noteId: number,
): Promise<ReadNote | null> {
  const note = await findNote(db, workspace, noteId);
  if (!note) return null;
  const readings = await readingsOf(db, { noteId });
  return { ...note, reading: readings.get(noteId) ?? NOTHING_READ };
}

/** Where a note that was taken back stood, or null. */
export async function findGoneNote(
  db: DbOrTransaction,
  workspace: string,
  noteId: number,
): Promise<{ readonly channel: string; readonly ts: string } | null> {
  const row = await db
    .selectFrom('note')
    .select(['channel', 'ts'])
    .where('workspace', '=', workspace)
    .where('id', '=', noteId)
    .where('deleted_at', 'is not', null)
    .where('source', '=', 'thread')
    .executeTakeFirst();
  return row ?? null;
}

type Which = { readonly tastingId?: number; readonly noteId?: number };

async function readingsOf(db: DbOrTransaction, which: Which): Promise<ReadonlyMap<number, NoteReading>> {
  const rows = await db
    .selectFrom('reading')
    .innerJoin('note', 'note.id', 'reading.note_id')
    .selectAll('reading')
    .$if(which.tastingId !== undefined, (query) => query.where('note.tasting_id', '=', which.tastingId ?? 0))
    .$if(which.noteId !== undefined, (query) => query.where('note.id', '=', which.noteId ?? 0))
    .execute();
  const mentions = await mentionsOf(db, which);
  return new Map(
    rows.map((row) => [
      row.note_id,
      {
        mentions: mentions.get(row.note_id) ?? [],
        order: row.order_json === null ? null : Order.parse(JSON.parse(row.order_json)),
        liking: new Map(Liking.parse(JSON.parse(row.liking_json))),
        worst: Worst.parse(JSON.parse(row.worst_json)),
        needsCup: row.needs_cup === 1,
        unplaced: Unplaced.parse(JSON.parse(row.unplaced_json)),
      },
    ]),
  );
}

async function mentionsOf(db: DbOrTransaction, which: Which): Promise<ReadonlyMap<number, NotedMention[]>> {
  const rows = await db
    .selectFrom('mention')
    .innerJoin('note', 'note.id', 'mention.note_id')
    .selectAll('mention')
    .$if(which.tastingId !== undefined, (query) => query.where('note.tasting_id', '=', which.tastingId ?? 0))
    .$if(which.noteId !== undefined, (query) => query.where('note.id', '=', which.noteId ?? 0))
    .orderBy('mention.note_id')
    .orderBy('mention.seq')
    .execute();
  const byNote = new Map<number, NotedMention[]>();
  for (const row of rows) {
    const held = byNote.get(row.note_id) ?? [];
    held.push({
      cupId: row.cup_id,
      attribute: row.attribute,
      polarity: Polarity.parse(row.polarity),
      degree: Degree.parse(row.degree),
      intensity: row.intensity,
      doubt: row.doubt === 1,
      span: [row.span_start, row.span_end],
    });
    byNote.set(row.note_id, held);
  }
  return byNote;
}
