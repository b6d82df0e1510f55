import { z } from 'zod';
import type { ExpectedNote } from './expected.js';
import { look } from './look.js';
import type { World } from './world.js';

const NoteRow = z.object({
  id: z.number(),
  ts: z.string(),
  person: z.string(),
  thread_ts: z.string().nullable(),
  text: z.string(),
  late: z.number(),
  deleted_at: z.string().nullable(),
  number: z.number(),
  readings: z.number(),
});
type NoteRow = z.infer<typeof NoteRow>;
const NOTES = `select note.id, note.ts, note.person, note.thread_ts, note.text, note.late, note.deleted_at,
    tasting.number, (select count(*) from reading where note_id = note.id) as readings
  from note join tasting on tasting.id = note.tasting_id`;

const Mention = z.object({ note_id: z.number(), label: z.string().nullable(), attribute: z.string() });
const MENTIONS = `select note_id, cup.label, attribute from mention left join cup on cup.id = mention.cup_id
  where polarity = 'present'`;

/** Every note once, with its latest words, who wrote it, late or not, and read as what it says. */
export function checkNotes(world: World): readonly string[] {
  const rows = look(world.database, NoteRow, NOTES);
  const mentions = look(world.database, Mention, MENTIONS);
  const { notes } = world.expected;
  const wrong: string[] = [];
  for (const note of notes.values()) {
    const own = rows.filter((row) => row.ts === note.ts);
    wrong.push(...checkOne(note, own).map((what) => `note ${note.ts} (${note.stage}): ${what}`));
    const [row] = own;
    if (row) wrong.push(...checkClaims(note, row, mentions));
  }
  const extra = rows.filter((row) => !notes.has(row.ts));
  wrong.push(...extra.map((row) => `note ${row.ts}: nobody wrote it as a note: “${row.text}”`));
  return wrong;
}

function checkOne(note: ExpectedNote, rows: readonly NoteRow[]): readonly string[] {
  const [row] = rows;
  if (note.gone)
    return row && (row.deleted_at === null || row.text !== '' || row.readings > 0)
      ? [`was taken back and still stands: “${row.text}”`]
      : [];
  if (!row) return [`is lost: “${note.text}”`];
  const wrong: string[] = [];
  if (rows.length > 1) wrong.push(`is kept ${rows.length} times`);
  if (row.deleted_at !== null) wrong.push('is taken for deleted');
  if (row.text !== note.text) wrong.push(`says “${row.text}”, and not “${note.text}”`);
  if (row.person !== note.person) wrong.push(`is ${row.person}'s, and not ${note.person}'s`);
  if (row.thread_ts !== note.thread) wrong.push('is in another thread');
  if (row.number !== 1) wrong.push(`is at table ${row.number}`);
  if (row.readings !== 1) wrong.push(`is read ${row.readings} times`);
  const late = note.stage === 'closed' ? 1 : 0;
  if (row.late !== late) wrong.push(late ? 'is late and counted' : 'is in time and not counted');
  return wrong;
}

function checkClaims(note: ExpectedNote, row: NoteRow, all: readonly z.infer<typeof Mention>[]) {
  if (note.gone || note.claims === null) return [];
  const expected = note.claims.map(([cup, attribute]) => `${cup} ${attribute}`).sort();
  const found = all
    .filter(({ note_id }) => note_id === row.id)
    .map(({ label, attribute }) => `${label ?? 'no cup'} ${attribute}`)
    .sort();
  return expected.join() === found.join()
    ? []
    : [
        `note ${note.ts} (“${note.text}”): reads ${found.join(', ') || 'nothing'}, and not ${expected.join(', ')}`,
      ];
}
