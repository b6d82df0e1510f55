import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';

/** A taster's word on one mention: `attribute` null drops it. The span is that of the note's text. */
export type StoredCorrection = {
  readonly span: readonly [number, number];
  readonly attribute: string | null;
};

const ofNote = prepared<{ readonly noteId: number }>()((db, given) =>
  db.selectFrom('correction').selectAll().where('note_id', '=', given('noteId')).orderBy('id'),
);

/** Corrections of one note, in the order they were made. */
export async function listCorrections(
  db: DbOrTransaction,
  noteId: number,
): Promise<readonly StoredCorrection[]> {
  const rows = await ofNote(db, { noteId });
  return rows.map((row) => ({ span: [row.span_start, row.span_end], attribute: row.attribute }));
}

/** Keeps a correction in place of an earlier one of the same words. */
export async function keepCorrection(
  db: DbOrTransaction,
  correction: StoredCorrection & {
    readonly workspace: string;
    readonly noteId: number;
    readonly by: string;
    readonly at: Date;
  },
): Promise<void> {
  const values = { attribute: correction.attribute, by: correction.by, at: correction.at.toISOString() };
  await db
    .insertInto('correction')
    .values({
      workspace: correction.workspace,
      note_id: correction.noteId,
      span_start: correction.span[0],
      span_end: correction.span[1],
      ...values,
    })
    .onConflict((conflict) => conflict.columns(['note_id', 'span_start', 'span_end']).doUpdateSet(values))
    .execute();
}

/** An edited note is a new text: corrections of the old words no longer fit. */
export async function forgetCorrections(db: DbOrTransaction, noteId: number): Promise<void> {
  await db.deleteFrom('correction').where('note_id', '=', noteId).execute();
}
