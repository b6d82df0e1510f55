import { isWhollyUnderstood, understoodSentence } from '../../domain/notes/reading.js';
import type { Note } from '../../domain/record/note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { type Cup, cupName, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import { KindRefusal } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import type { DbOrTransaction } from '../../store/db.js';
import { freeFormTs, listNotes, saveNote } from '../../store/notes.js';
import { inTransaction } from '../../store/transaction.js';
import type { Deps } from '../common/bot.js';
import type { Who } from '../common/intake.js';
import { houseVocabulary, readStoredNotes, understand } from '../common/table-notes.js';
import type { OwnNote } from './note-forms.js';

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
  if (tasting.state === 'cancelled')
    throw new KindRefusal('not now', `${tastingName(tasting)} was cancelled.`);
  if (written.text === '' && written.placing === '') {
    throw new KindRefusal(
      'not understood',
      'There is nothing to keep yet.',
      'Write what you taste, or choose the one you like best.',
      'text',
    );
  }
  const now = deps.clock.now();
  const notes = await inTransaction(deps.db, async (trx) => {
    const kept: Note[] = [];
    if (written.text !== '')
      kept.push(await keep(trx, who, setting, written.text, written.cup?.id ?? null, now));
    if (written.placing !== '') kept.push(await keep(trx, who, setting, written.placing, null, now));
    await readStoredNotes(trx, setting, kept, await houseVocabulary(trx, who.workspace));
    await markChanged(trx, who.workspace, `tasting:${tasting.id}`, now);
    return kept;
  });
  return understoodMessage(deps, who, setting, notes);
}

async function keep(
  trx: DbOrTransaction,
  who: Who,
  setting: TableSetting,
  text: string,
  cupId: number | null,
  now: Date,
): Promise<Note> {
  const { tasting } = setting;
  const channel = `form:${tasting.id}:${who.person}`;
  const ts = await freeFormTs(trx, who.workspace, channel, now);
  const note = await saveNote(trx, {
    workspace: who.workspace,
    tastingId: tasting.id,
    source: 'form',
    channel,
    ts,
    threadTs: null,
    person: who.person,
    homeCupId: cupId,
    text,
    editedTs: null,
    late: tasting.closedAt !== null,
    at: now,
  });
  if (!note) throw new Error('a note from the form was kept and is gone');
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

/** "D" as the best, and the order as typed: what the reader understands like any other words. */
export function placingWords(best: Cup | null, order: string): string {
  if (order !== '') return order;
  return best ? `best: ${cupName(best)}` : '';
}

/** A person's own notes at a table, with what each was understood to say. */
export async function ownNotes(
  db: DbOrTransaction,
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
