import { z } from 'zod';
import type { Tasting } from '../../domain/record/tasting.js';
import type { Notice } from '../../kit/notice.js';
import { findGoneNote } from '../../store/notes.js';
import { findReadNote } from '../../store/readings.js';
import { type Answer, type Deps, type Feature, type SubmitAnswer, subjectId } from '../common/bot.js';
import { Id, readValue, type Submission, type Tap, type Typed, written } from '../common/intake.js';
import { requireTable, requireTableAt, whichTasting } from '../common/load-table.js';
import { isHidden } from '../common/table-view.js';
import { openOwnData } from '../privacy/privacy.js';
import { correctSubmitted, correctTap, cupTap } from './note-correct.js';
import { CORRECT_FORM, goneNoteNotices, NOTE_FORM, noteForm, noteNotices } from './note-messages.js';
import { ownNotes, placingWords, writeFormNotes } from './note-written.js';

const Value = z.object({ tasting: Id, cup: Id.optional() });
/** A submission does not say where its form was opened, so the form does. */
const State = z.object({ tasting: Id, channel: z.string().nullish() });

export const note: Feature = {
  verb: {
    name: 'note',
    does: 'your own notes and placing in a form, with what was understood',
    example: '/spoon note T4',
    run: typedNote,
  },
  taps: {
    'note.form': {
      for: 'taste',
      run: async (deps, tap) => {
        const value = readValue(Value, tap.value);
        return openNoteForm(deps, tap, value.tasting, value.cup ?? null);
      },
    },
    'note.cup': { for: 'change note', run: cupTap },
    'note.correct': { for: 'change note', run: correctTap },
  },
  forms: {
    [NOTE_FORM]: { for: 'taste', run: submitNote },
    [CORRECT_FORM]: { for: 'change note', run: correctSubmitted },
  },
  subjects: {
    note: {
      notices: (deps, workspace, subject) => noticesOfNote(deps, workspace, Number(subjectId(subject))),
    },
  },
};

async function typedNote(deps: Deps, typed: Typed): Promise<Answer> {
  if (/^(my )?data$/i.test(typed.words.trim())) return openOwnData(deps, typed.who);
  const states: readonly Tasting['state'][] = ['open', 'closed', 'ready', 'booked'];
  const { tasting, rest } = await whichTasting(deps.db, typed, states, '/spoon note T4');
  if (rest === '') return openNoteForm(deps, typed, tasting.id, null);
  const setting = await requireTableAt(deps.db, typed.who, typed.channel, tasting.id, 'taste');
  return { message: await writeFormNotes(deps, typed.who, setting, { cup: null, text: rest, placing: '' }) };
}

async function openNoteForm(
  deps: Deps,
  { who, channel }: Pick<Tap, 'who' | 'channel'>,
  tastingId: number,
  cupId: number | null,
): Promise<Answer> {
  const setting = await requireTableAt(deps.db, who, channel, tastingId, 'taste');
  const own = await ownNotes(deps.db, who.workspace, setting, who.person);
  return { form: noteForm({ setting, hidden: isHidden(setting), cupId, own, channel }) };
}

async function submitNote(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { tasting, channel } = readValue(State, form.privateMetadata);
  const setting = await requireTableAt(deps.db, who, channel ?? null, tasting, 'taste');
  const cup = (name: string) => setting.cups.find((held) => String(held.id) === written(form, name)) ?? null;
  const placing = placingWords(cup('best'), written(form, 'order'));
  return {
    message: await writeFormNotes(deps, who, setting, {
      cup: cup('cup'),
      text: written(form, 'text'),
      placing,
    }),
  };
}

/** Notices of a note: the reaction on it, and the question which cup was meant. */
async function noticesOfNote(deps: Deps, workspace: string, noteId: number): Promise<readonly Notice[]> {
  const note = await findReadNote(deps.db, workspace, noteId);
  if (note) {
    // Only the question which cup was meant shows the table.
    const asks = note.reading.needsCup && note.source === 'thread';
    return noteNotices(note, asks ? await requireTable(deps.db, workspace, note.tastingId) : null);
  }
  const gone = await findGoneNote(deps.db, workspace, noteId);
  return gone ? goneNoteNotices(noteId, gone.channel, gone.ts) : [];
}
