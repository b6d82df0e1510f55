import { isWhollyUnderstood, understoodSentence } from '../../domain/notes/reading.js';
import type { Note } from '../../domain/record/note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { type Cup, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { type Db, inTransaction } from '../../store/db.js';
import { freeFormTs, listNotes, saveNote } from '../../store/notes.js';
import { findTastingByNumber } from '../../store/tastings.js';
import type { Deps } from '../common/bot.js';
import type { Who } from '../common/intake.js';
import { loadTable } from '../common/load-table.js';
import { houseVocabulary, readStoredNotes, understand } from '../common/table-notes.js';
import type { OwnNote } from './note-messages.js';

/** What one form says: words on a cup, and words on the order. */
type FormNote = { readonly cup: Cup | null; readonly text: string; readonly placing: string };

/** Keeps what was written in the note form, as notes like any other, and says what was understood. */
export async function writeFormNotes(
  deps: Deps,
  who: Who,
  setting: TableSetting,
  written: FormNote,
): Promise<Message> {
  const { tasting } = setting;
  if (tasting.state === 'cancelled') throw new UserError(`${tastingName(tasting)} was cancelled.`);
  if (written.text === '' && written.placing === '') {
    throw new UserError(
      'There is nothing to keep yet.',
      'Write what you taste, or choose the one you like best.',
      'text',
    );
  }
  const now = deps.clock.now();
  const notes = await inTransaction(deps.db, async (trx) => {
    const kept: Note[] = [];
    const { workspace, person } = who;
    const said = { source: 'form', taster: person, late: tasting.closedAt !== null } as const;
    for (const [text, cup] of [[written.text, written.cup] as const, [written.placing, null] as const]) {
      if (text === '') continue;
      kept.push(await saveWritten(trx, workspace, setting, { ...said, text, cupId: cup?.id ?? null }, now));
    }
    await readStoredNotes(trx, setting, kept, await houseVocabulary(trx, who.workspace));
    await markChanged(trx, who.workspace, `tasting:${tasting.id}`, now);
    return kept;
  });
  return understoodMessage(deps, who, setting, notes);
}

/** Words written elsewhere than in a thread. */
type Written = {
  readonly source: 'form' | 'paper';
  readonly taster: string;
  readonly text: string;
  readonly cupId: number | null;
  readonly late: boolean;
};

async function saveWritten(
  trx: Db,
  workspace: string,
  { tasting }: TableSetting,
  { source, taster, text, cupId, late }: Written,
  now: Date,
): Promise<Note> {
  const channel = `${source}:${tasting.id}:${taster}`;
  const note = await saveNote(trx, {
    workspace,
    tastingId: tasting.id,
    source,
    channel,
    ts: await freeFormTs(trx, workspace, channel, now),
    threadTs: null,
    person: source === 'paper' ? paperPerson(taster) : taster,
    homeCupId: cupId,
    text,
    editedTs: null,
    late,
    at: now,
  });
  if (!note) throw new Error('a note was kept and is gone');
  return note;
}

async function understoodMessage(
  deps: Deps,
  who: Who,
  setting: TableSetting,
  notes: readonly Note[],
): Promise<Message> {
  const lines: string[] = [];
  for (const note of notes) {
    const reading = await understand(deps.db, who.workspace, setting, note);
    if (reading.needsCup) lines.push('Which cup was that? Tap below and say.');
    else {
      const said = understoodSentence(reading);
      const whole = isWhollyUnderstood(reading) ? '' : ' Some words I could not place; they are kept.';
      lines.push(said ? `${mrkdwn(said)}.${whole}` : 'Kept. I read nothing in it as a taste.');
    }
  }
  const value = { tasting: setting.tasting.id };
  const first = notes[0];
  const correct = first ? [button('Correct', 'note.correct', { note: first.id })] : [];
  return say(lines.join('\n'), ...buttons(button('Write another', 'note.form', value), ...correct));
}

/** A person's own notes at a table, with what each was understood to say. */
export async function ownNotes(
  db: Db,
  workspace: string,
  setting: TableSetting,
  person: string,
): Promise<readonly OwnNote[]> {
  const notes = await listNotes(db, setting.tasting.id, person);
  const own: OwnNote[] = [];
  for (const note of notes) {
    const reading = await understand(db, workspace, setting, note);
    own.push({
      id: note.id,
      text: note.text,
      understood: understoodSentence(reading),
      needsCup: reading.needsCup,
    });
  }
  return own;
}

/** A note kept on paper: its words, and the cup it stood under when its words name none. */
type PaperNote = { readonly text: string; readonly homeCup: string | null };

/**
 * Brings one taster's notes from paper into a table. They count like any other, late ones included when the
 * table has closed: paper is what people wrote at the table.
 *
 * @returns how many were kept and how many of them name no cup
 */
export async function importNotes(
  deps: Deps,
  workspace: string,
  tastingNumber: number,
  taster: string,
  notes: readonly PaperNote[],
): Promise<{ readonly kept: number; readonly withoutCup: number }> {
  const now = deps.clock.now();
  const tasting = await findTastingByNumber(deps.db, workspace, tastingNumber);
  if (!tasting) throw new UserError(`There is no tasting T${tastingNumber}.`);
  if (tasting.state === 'cancelled') throw new UserError(`${tastingName(tasting)} was cancelled.`);
  const setting = await loadTable(deps.db, workspace, tasting);
  return inTransaction(deps.db, async (trx) => {
    const vocabulary = await houseVocabulary(trx, workspace);
    let withoutCup = 0;
    for (const { text, homeCup } of notes) {
      const cup = setting.cups.find(
        (held) => homeCup !== null && [held.label, held.code].includes(homeCup.toUpperCase()),
      );
      const written = { source: 'paper', taster, text, cupId: cup?.id ?? null, late: false } as const;
      const note = await saveWritten(trx, workspace, setting, written, now);
      const [reading] = await readStoredNotes(trx, setting, [note], vocabulary);
      if (reading?.needsCup) withoutCup += 1;
    }
    await markChanged(trx, workspace, `tasting:${tasting.id}`, now);
    return { kept: notes.length, withoutCup };
  });
}

/** Somebody who wrote on paper: a Slack user id stays one, any other name is kept apart from them. */
function paperPerson(taster: string): string {
  return /^[UW][A-Z0-9]{6,}$/.test(taster) ? taster : `paper:${taster}`;
}
