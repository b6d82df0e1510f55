import type { NoteReading } from '../domain/record/note.js';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';

const forgetMentions = prepared<{ readonly noteId: number }>()((db, given) =>
  db.deleteFrom('mention').where('note_id', '=', given('noteId')),
);

type ReadingRow = {
  readonly noteId: number;
  readonly order: string | null;
  readonly liking: string;
  readonly worst: string;
  readonly needsCup: number;
  readonly unplaced: string;
};

const keepRow = prepared<ReadingRow>()((db, given) => {
  const row = {
    order_json: given('order'),
    liking_json: given('liking'),
    worst_json: given('worst'),
    needs_cup: given('needsCup'),
    unplaced_json: given('unplaced'),
  };
  return db
    .insertInto('reading')
    .values({ note_id: given('noteId'), ...row })
    .onConflict((conflict) => conflict.column('note_id').doUpdateSet(row));
});

type MentionRow = {
  readonly noteId: number;
  readonly seq: number;
  readonly cupId: number | null;
  readonly attribute: string;
  readonly polarity: string;
  readonly degree: string;
  readonly intensity: number | null;
  readonly doubt: number;
  readonly start: number;
  readonly end: number;
};

const addMention = prepared<MentionRow>()((db, given) =>
  db.insertInto('mention').values({
    note_id: given('noteId'),
    seq: given('seq'),
    cup_id: given('cupId'),
    attribute: given('attribute'),
    polarity: given('polarity'),
    degree: given('degree'),
    intensity: given('intensity'),
    doubt: given('doubt'),
    span_start: given('start'),
    span_end: given('end'),
  }),
);

/** Keeps what a note was understood to say, in place of what was kept before. */
export async function keepReading(db: DbOrTransaction, noteId: number, reading: NoteReading): Promise<void> {
  await forgetMentions(db, { noteId });
  await keepRow(db, {
    noteId,
    order: reading.order === null ? null : JSON.stringify(reading.order),
    liking: JSON.stringify([...reading.liking]),
    worst: JSON.stringify(reading.worst),
    needsCup: reading.needsCup ? 1 : 0,
    unplaced: JSON.stringify(reading.unplaced),
  });
  for (const [seq, mention] of reading.mentions.entries()) {
    const { cupId, attribute, polarity, degree, intensity, doubt, span } = mention;
    const [start, end] = span;
    const said = { cupId, attribute, polarity, degree, intensity, doubt: doubt ? 1 : 0 };
    await addMention(db, { noteId, seq, ...said, start, end });
  }
}
