import { z } from 'zod';
import type { NotedMention, NoteReading, ReadNote } from '../domain/record/note.js';
import type { Db } from './db.js';
import { findNote, listNotes } from './notes.js';

const Order = z.array(z.array(z.number().int())).nullable();
const Liking = z.array(z.tuple([z.number().int(), z.number()]));
const Worst = z.array(z.number().int());
const Span = z.tuple([z.number().int(), z.number().int()]);
const Unplaced = z.array(z.object({ words: z.string(), span: Span }));

const NOTHING_READ: NoteReading = {
  mentions: [],
  order: null,
  liking: new Map(),
  worst: [],
  needsCup: false,
  unplaced: [],
};

/** Stores what a note was understood to say, in place of what was stored before. */
export async function saveReading(db: Db, noteId: number, reading: NoteReading): Promise<void> {
  await db.deleteFrom('mention').where('note_id', '=', noteId).execute();
  const row = {
    order_json: reading.order === null ? null : JSON.stringify(reading.order),
    liking_json: JSON.stringify([...reading.liking]),
    worst_json: JSON.stringify(reading.worst),
    needs_cup: reading.needsCup ? 1 : 0,
    unplaced_json: JSON.stringify(reading.unplaced),
  };
  await db
    .insertInto('reading')
    .values({ note_id: noteId, ...row })
    .onConflict((conflict) => conflict.column('note_id').doUpdateSet(row))
    .execute();
  // One by one: a statement takes only so many values, and a note may mention more.
  for (const [seq, { cupId, doubt, span, ...said }] of reading.mentions.entries()) {
    const [span_start, span_end] = span;
    const row = { ...said, cup_id: cupId, doubt: doubt ? 1 : 0, span_start, span_end };
    await db
      .insertInto('mention')
      .values({ note_id: noteId, seq, ...row })
      .execute();
  }
}

/** Standing notes of one tasting with what each was understood to say. */
export async function listReadNotes(db: Db, tastingId: number): Promise<readonly ReadNote[]> {
  const notes = await listNotes(db, tastingId);
  const readings = await readingsOf(db, 'note.tasting_id', tastingId);
  return notes.map((note) => ({ ...note, reading: readings.get(note.id) ?? NOTHING_READ }));
}

/** One standing note with what it was understood to say, or null. */
export async function findReadNote(db: Db, workspace: string, noteId: number): Promise<ReadNote | null> {
  const note = await findNote(db, workspace, noteId);
  if (!note) return null;
  const readings = await readingsOf(db, 'note.id', noteId);
  return { ...note, reading: readings.get(noteId) ?? NOTHING_READ };
}

async function readingsOf(
  db: Db,
  column: 'note.tasting_id' | 'note.id',
  id: number,
): Promise<ReadonlyMap<number, NoteReading>> {
  const rows = await db
    .selectFrom('mention')
    .innerJoin('note', 'note.id', 'mention.note_id')
    .select(['note_id', 'cup_id as cupId', 'attribute', 'polarity', 'degree', 'intensity', 'doubt'])
    .select(['span_start', 'span_end'])
    .where(column, '=', id)
    .orderBy('mention.note_id')
    .orderBy('mention.seq')
    .execute();
  const mentions = new Map<number, NotedMention[]>();
  for (const { note_id, doubt, span_start, span_end, ...said } of rows) {
    const mention: NotedMention = { ...said, doubt: doubt === 1, span: [span_start, span_end] };
    const own = mentions.get(note_id);
    if (own) own.push(mention);
    else mentions.set(note_id, [mention]);
  }
  const readings = await db
    .selectFrom('reading')
    .innerJoin('note', 'note.id', 'reading.note_id')
    .selectAll('reading')
    .where(column, '=', id)
    .execute();
  return new Map(
    readings.map((row) => [
      row.note_id,
      {
        mentions: mentions.get(row.note_id) ?? [],
        order: Order.parse(JSON.parse(row.order_json ?? 'null')),
        liking: new Map(Liking.parse(JSON.parse(row.liking_json))),
        worst: Worst.parse(JSON.parse(row.worst_json)),
        needsCup: row.needs_cup === 1,
        unplaced: Unplaced.parse(JSON.parse(row.unplaced_json)),
      },
    ]),
  );
}

/** A taster's word on one mention: `attribute` null drops it. The span is that of the note's text. */
export type StoredCorrection = {
  readonly span: readonly [number, number];
  readonly attribute: string | null;
};

/** Corrections of one note, in the order they were made. */
export async function listCorrections(db: Db, noteId: number): Promise<readonly StoredCorrection[]> {
  const rows = await db
    .selectFrom('correction')
    .selectAll()
    .where('note_id', '=', noteId)
    .orderBy('id')
    .execute();
  return rows.map((row) => ({ span: [row.span_start, row.span_end], attribute: row.attribute }));
}

/** Stores a correction in place of an earlier one of the same words. */
export async function saveCorrection(
  db: Db,
  correction: StoredCorrection & {
    readonly workspace: string;
    readonly noteId: number;
    readonly by: string;
    readonly at: Date;
  },
): Promise<void> {
  const { workspace, noteId: note_id, attribute, by, at } = correction;
  const [span_start, span_end] = correction.span;
  const values = { attribute, by, at: at.toISOString() };
  await db
    .insertInto('correction')
    .values({ workspace, note_id, span_start, span_end, ...values })
    .onConflict((conflict) => conflict.columns(['note_id', 'span_start', 'span_end']).doUpdateSet(values))
    .execute();
}

/** An edited note is a new text: corrections of the old words no longer fit. */
export async function forgetCorrections(db: Db, noteId: number): Promise<void> {
  await db.deleteFrom('correction').where('note_id', '=', noteId).execute();
}
